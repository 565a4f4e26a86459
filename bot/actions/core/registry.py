"""Everything the actions can do: actions, live messages and scheduled jobs register when their modules are imported."""

from collections.abc import Collection
from importlib import import_module
from pkgutil import walk_packages

import bot.actions as home
from bot.actions.core.dispatch import ACTIONS, Action
from bot.actions.core.subject_loading import first_word, keys, learn_action, learn_followers
from bot.words.core.action_keys import ActionKey, AnyKey
from bot.words.core.custom_ids import ALL_KEYS
from storage.records.base import Record
from storage.records.message import Form, Message, Open, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import AuditEntry, Tryout

OF_SIGN_UP: tuple[type[Record], ...] = (Request, Tryout, Student, Squad, AuditEntry, Message, Say, Form, Open)
"""The records that a sign-up deals with."""


def begin() -> None:
    """Import what a class asks for first; every other subject comes with its first request (see `subjects`).

    What follows a change of squads comes along, and the validators of sign-up's records: a whole class may sign up at
    one instant, and would wait for them. Other validators are made when they are first needed: all hold 2 MiB.

    Raises:
        RuntimeError: an action key has no subject.
    """
    check_complete({one for one in ALL_KEYS if first_word(one) in keys()})
    learn_action(ActionKey.SQUAD_START)
    learn_followers("squads")
    for record in OF_SIGN_UP:
        record.model_rebuild()


def action_of(key: AnyKey) -> Action:
    """The action of a key, whose subject is imported with the first of them; KeyError when there is none."""
    learn_action(key)
    return ACTIONS[key]


def register_all() -> None:
    """Import every module of actions and the words of refusals, for whoever looks at all of them.

    Raises:
        RuntimeError: an action key has no handler.
    """
    for module in walk_packages(home.__path__, f"{home.__name__}."):
        import_module(module.name)
    check_complete(ACTIONS)
    import_module("bot.words.core.refusals")


def check_complete(found: Collection[AnyKey]) -> None:
    """A program in which buttons are dead is not started, such as one whose folders of actions were not found.

    Raises:
        RuntimeError: an action key has no handler.
    """
    if dead := sorted(ALL_KEYS - set(found)):
        raise RuntimeError(f"no handler for {len(dead)} actions: {', '.join(dead[:5])}")

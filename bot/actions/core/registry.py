"""Everything the actions can do: actions, live messages and scheduled jobs register when their modules are imported."""

from collections.abc import Collection
from importlib import import_module
from pkgutil import walk_packages

import bot.actions as home
from bot.actions.core.dispatch import ACTIONS
from bot.words.core.action_keys import AnyKey
from bot.words.core.keys import ALL_KEYS


def register_all() -> None:
    """Import every module of actions and the words of refusals.

    That takes as long as importing the chat library does, so that it is done beside the event loop once the platform
    is reached, and whoever presses meanwhile waits for it. Validators of records are made when they are first needed:
    most of them never are in a week, and together they hold 2 MiB.

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

"""Which subject deals with what: its modules are imported with the first thing that it is asked for.

Most subjects have their days, such as judging, and a bot that waits for a class to sign up need not hold them all.
Each folder of actions says in its `KEYS` which first words the keys of its actions have, in its `KINDS` which live
messages and scheduled jobs are its own, and in its `FOLLOWS` which module follows a change that others make. Two
folders may share a word: then both are imported. A module that is named in `APART` is imported with keys of its own
first word only, and nothing else with them.
"""

from collections.abc import Collection, Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType
from typing import Literal

import bot.actions as home

Change = Literal["judges", "squads", "table"]
"""Who judges; squads and their members; what is on record at the table."""


def learn_action(key: str) -> None:
    """Import the subjects that may have the action of a key, if that has not been done."""
    word = first_word(key)
    for subject in keys().get(word, ()):
        _learn(subject, word)


def learn_kind(kind: str) -> None:
    """Import the subjects that may have a kind of live message or of scheduled job, if that has not been done."""
    for subject in kinds().get(kind, ()):
        _learn(subject, kind)


@cache
def learn_followers(change: Change) -> None:
    """Import what follows a change: only the modules that do, as the days of their subjects may not have come."""
    for folder in _folders():
        follows: Mapping[str, str] = getattr(folder, "FOLLOWS", {})
        if change in follows:
            import_module(f"{folder.__name__}.{follows[change]}")


def first_word(key: str) -> str:
    """What of a key says which subjects may have its action."""
    return key.partition(".")[0]


@cache
def keys() -> Mapping[str, Collection[str]]:
    """The subjects by the first words of the keys of their actions."""
    return _by_word("KEYS")


@cache
def kinds() -> Mapping[str, Collection[str]]:
    """The subjects by the kinds of their live messages and scheduled jobs."""
    return _by_word("KINDS")


def _by_word(says: str) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for folder in _folders():
        for word in getattr(folder, says, ()):
            found.setdefault(word, []).append(folder.__name__)
    return found


@cache
def _folders() -> list[ModuleType]:
    return [import_module(folder.name) for folder in iter_modules(home.__path__, f"{home.__name__}.")]


@cache
def _learn(subject: str, word: str) -> None:
    folder = import_module(subject)
    apart: Mapping[str, str] = getattr(folder, "APART", {})
    others = [module.name for module in iter_modules(folder.__path__) if module.name not in apart.values()]
    for module in [apart[word]] if word in apart else others:
        import_module(f"{subject}.{module}")

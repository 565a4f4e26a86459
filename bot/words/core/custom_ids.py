"""Custom ids of buttons, selects and forms: an action key with what it is about, made and read."""

from hashlib import sha256

from bot.words.core.action_keys import ActionKey, AnyKey
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.day_action_keys import DayKey

LIMIT = 100

ALL_KEYS: frozenset[AnyKey] = frozenset((*ActionKey, *ClassKey, *DayKey))
"""Everything that can be asked for."""

_ACTIONS = {one.value: one for one in ALL_KEYS}


def key(action: AnyKey, *about: object) -> str:
    """The key `action:about:…`, at most 100 characters.

    Raises:
        ValueError: a part holds a colon, or the key is too long.
    """
    parts = [action, *map(str, about)]
    if any(":" in part for part in parts):
        raise ValueError(f"a colon inside {parts}")
    made = ":".join(parts)
    if len(made) > LIMIT:
        raise ValueError(f"{made!r} is too long for a key")
    return made


def shown_stamp(*shown: object) -> str:
    """What a button carries of what is shown above it, so that nobody agrees to what it has become since."""
    return sha256(repr(shown).encode()).hexdigest()[:16]


def split(made: str) -> tuple[AnyKey | None, tuple[str, ...]]:
    """The action in a key, None for one that nobody knows (any more), and what it is about."""
    action, *about = made.split(":")
    return _ACTIONS.get(action), tuple(about)

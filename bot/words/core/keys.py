"""The keys of buttons, selects and forms: what is asked for, and about what."""

from bot.words.core.action_keys import ActionKey

LIMIT = 100

_ACTIONS = {one.value: one for one in ActionKey}


def key(action: ActionKey, *about: object) -> str:
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


def split(made: str) -> tuple[ActionKey | None, tuple[str, ...]]:
    """The action in a key, None for one that nobody knows (any more), and what it is about."""
    action, *about = made.split(":")
    return _ACTIONS.get(action), tuple(about)

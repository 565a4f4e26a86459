"""The keys of buttons, selects and forms: what is asked for, and about what."""

LIMIT = 100


def key(action: str, *about: object) -> str:
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


def split(made: str) -> tuple[str, tuple[str, ...]]:
    """The action in a key, and what it is about."""
    action, *about = made.split(":")
    return action, tuple(about)

"""The notice that the nightly backup does not work: which coaches learn of it, and how often."""

from collections.abc import Collection


def can_be_told(rooms: Collection[str]) -> bool:
    """Whether a try-out has an office yet; where it has none, its coach is told a later night."""
    return "office" in rooms


def is_told(known: bool) -> bool:
    """Whether the coach is told of a night without a backup: of the first only, until one works again."""
    return not known

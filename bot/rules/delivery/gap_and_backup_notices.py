"""After the bot was away, or where no nightly backup works: which coaches learn of it, how often, in which order."""

from collections.abc import Collection, Sequence
from datetime import datetime, timedelta

SHORTEST_GAP = timedelta(minutes=10)
"""Whoever was away as long as this says what came late."""


def can_be_told(rooms: Collection[str]) -> bool:
    """Whether a try-out has an office yet; where it has none, its coach is told of a backup a later night."""
    return "office" in rooms


def gap_is_told(rooms: Collection[str], late: int) -> bool:
    """Whether the coach of a try-out is told of a gap: where it has an office, and anything came late."""
    return can_be_told(rooms) and late > 0


def in_order(late: Sequence[tuple[str, bool, datetime]]) -> list[tuple[str, bool, datetime]]:
    """What came late, in the order in which it was due."""
    return sorted(late, key=lambda one: one[2])


def missing_backup_is_told(known: bool) -> bool:
    """Whether the coach is told of a night without a backup: of the first only, until one works again."""
    return not known

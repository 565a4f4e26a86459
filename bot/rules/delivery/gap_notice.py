"""After the bot was away: how long that must be to say what came late, to whom, and in which order."""

from collections.abc import Collection, Sequence
from datetime import datetime, timedelta

SHORTEST_GAP = timedelta(minutes=10)
"""Whoever was away as long as this says what came late."""


def is_told(rooms: Collection[str], late: int) -> bool:
    """Whether the coach of a try-out is told: where it has an office, and anything came late."""
    return "office" in rooms and late > 0


def in_order(late: Sequence[tuple[str, bool, datetime]]) -> list[tuple[str, bool, datetime]]:
    """What came late, in the order in which it was due."""
    return sorted(late, key=lambda one: one[2])

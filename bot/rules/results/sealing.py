"""Until judging is closed nobody sees marks, points or an order: only who owes what."""

from datetime import datetime, timedelta

from storage.records.tryout import State

COOLING = timedelta(minutes=10)
"""So long a coach alone waits before the seal is broken: scoring changed, or judging opened again."""
OPEN_STATES: frozenset[State] = frozenset(("settled", "announced", "archived"))


def sealed(state: State) -> bool:
    """Whether marks, points and the order are still hidden from everybody, coaches included."""
    return state not in OPEN_STATES


def may_break(asked_at: datetime, by_another: bool, now: datetime) -> bool:
    """Whether what one coach has asked for may be done: another coach agrees, or time to think has passed."""
    return by_another or now >= asked_at + COOLING

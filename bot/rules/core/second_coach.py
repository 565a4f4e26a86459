"""What one coach asks for alone: another coach agrees, or time to think has passed."""

from datetime import datetime, timedelta

COOLING = timedelta(minutes=10)
"""So long a coach alone waits before the seal is broken: scoring changed, or judging opened again."""


def may_break(asked_at: datetime, by_another: bool, now: datetime) -> bool:
    """Whether what one coach has asked for may be done: another coach agrees, or time to think has passed."""
    return by_another or now >= asked_at + COOLING

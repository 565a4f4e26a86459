"""How long to wait before something is tried again, and how often an outbox message is."""

from datetime import timedelta

LONGEST = timedelta(minutes=5)
FAULTS_BORNE = 5
"""How often an outbox message is tried again after a mistake of our own."""


def backoff_delay(tries: int) -> timedelta:
    """1, 2, 4, 8 … seconds after the first, second, third … try, and never more than five minutes."""
    return min(timedelta(seconds=2 ** min(max(tries, 1) - 1, 30)), LONGEST)

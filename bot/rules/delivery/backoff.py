"""How long to wait before something is tried again, also where the platform asks for it, and how often that is."""

from datetime import timedelta

LONGEST = timedelta(minutes=5)
LONGEST_WAIT_S = 3600.0
"""However long an answer asks us to wait: a message that is an hour late is tried once more."""
LONGEST_RATE_WAIT_S = 30.0
"""Longer than this the chat library does not sleep over a request; whoever made it tries again later."""
FAULTS_BORNE = 5
"""How often an outbox message is tried again after a mistake of our own."""


def backoff_delay(tries: int) -> timedelta:
    """1, 2, 4, 8 … seconds after the first, second, third … try, and never more than five minutes."""
    return min(timedelta(seconds=2 ** min(max(tries, 1) - 1, 30)), LONGEST)

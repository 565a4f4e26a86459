"""How long to wait before something is tried again, also where the platform asks for it, and how often that is."""

from datetime import timedelta

LONGEST = timedelta(minutes=5)
LONGEST_WAIT_S = 3600.0
"""However long an answer asks us to wait: a message that is an hour late is tried once more."""
UNNAMED_WAITS_S = {40003: 60.0, 20016: 10.0, 20028: 10.0, 20029: 10.0}
"""How long is waited where the platform does not say: after opening direct messages too fast, in a slow room, at the
write limits of a channel and of the server; by its error codes."""
TOKEN_CHANGED_WAIT_S = 60.0
"""How long is waited where the platform does not know us any more: a restart with the new token goes on."""
LONGEST_RATE_WAIT_S = 30.0
"""Longer than this the chat library does not sleep over a request; whoever made it tries again later."""
FAULTS_BORNE = 5
"""How often an outbox message is tried again after a mistake of our own."""


def backoff_delay(tries: int) -> timedelta:
    """1, 2, 4, 8 … seconds after the first, second, third … try, and never more than five minutes."""
    return min(timedelta(seconds=2 ** min(max(tries, 1) - 1, 30)), LONGEST)

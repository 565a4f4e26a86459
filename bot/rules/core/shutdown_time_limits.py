"""The orderly end: how long what is begun may take, and how long it takes to tell whoever waits."""

FINISH_S = 2.0
"""How long what has been begun may take once the end has begun; the platform waits three seconds for an answer."""
TELL_S = 0.5
"""How long it may then take to tell whoever could not be dealt with any more."""
QUIET_S = 0.3
"""So long nobody may have come before we hang up: events may still be on their way through the socket."""
FINISH_SENDING_S = 2.5
"""How long a message that is on its way may take when we stop."""

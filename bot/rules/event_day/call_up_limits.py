"""Calling squads on the event day: how many, how early, and until when it helps."""

from datetime import timedelta

TOO_LATE = timedelta(hours=1)
"""After so long a call helps nobody."""
CALLED = 2
"""So many squads behind the one that is on are called."""
CALL_RUNS = 2
"""So many runs before its time a squad may be called."""

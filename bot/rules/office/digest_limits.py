"""The coach's daily digest: how far it looks ahead and back."""

from datetime import timedelta

AHEAD = timedelta(hours=24)
LONGEST_LOOK_BACK = timedelta(days=14)
FILLING = timedelta(days=3)
"""Before the last so many days of sign-up nobody is behind: squads are filling up."""
FRESH = timedelta(hours=6)
"""So long after the brief nobody is behind: squads have hardly read it."""

"""More time for the hand-in of one squad: how much at most."""

from datetime import timedelta

MOST_EXTENSION = timedelta(days=30)
"""More time for one squad ends no later than so long after the deadline."""

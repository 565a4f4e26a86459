"""After the bot was away: how long that must be to say what came late, and what counts as late."""

from datetime import timedelta

PUNCTUAL = timedelta(minutes=2)
"""Up to this delay something is on time: nothing is said of it after a gap, and no reminder says that it is late."""
SHORTEST_GAP = timedelta(minutes=10)
"""Whoever was away as long as this says what came late."""

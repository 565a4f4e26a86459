"""After the bot was away: how long that must be to say what came late, and in how many lines."""

from datetime import timedelta

SHORTEST_GAP = timedelta(minutes=10)
"""Whoever was away as long as this says what came late."""
MOST_LINES = 12
"""More is counted on the last of them."""

"""After the bot was away: how long that must be to say what came late."""

from datetime import timedelta

SHORTEST_GAP = timedelta(minutes=10)
"""Whoever was away as long as this says what came late."""

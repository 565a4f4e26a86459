"""Told when events are opened for judging: how many judges are named who have not agreed yet."""

MOST_NAMED = 8
"""More judges than this are counted."""

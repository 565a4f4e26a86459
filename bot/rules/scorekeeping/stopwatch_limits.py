"""Stopwatches that run: when one was forgotten, and how many are shown at the table."""

from datetime import timedelta

LOST_AFTER = timedelta(minutes=30)
"""A clock that ran this much over the limit was forgotten."""
MOST_SHOWN = 3
"""So many of the clocks that run are shown beside the measures, the newest ones."""

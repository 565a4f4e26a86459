"""Stopwatches that run: when one was forgotten."""

from datetime import timedelta

LOST_AFTER = timedelta(minutes=30)
"""A clock that ran this much over the limit was forgotten."""

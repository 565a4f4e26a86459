"""A private room that vanishes: when it is opened anew."""

from datetime import timedelta

REOPEN_AGAIN = timedelta(hours=1)
"""A room that vanishes again within this time is not opened a third time."""

"""Reminders to judges: how long after sheets came, and after the coach's last reminder."""

from datetime import timedelta

JUST_OUT = timedelta(hours=6)
"""Nobody is reminded of sheets that were handed out so shortly before."""
REST = timedelta(hours=1)
"""So long after a coach's reminder judges are left in peace."""

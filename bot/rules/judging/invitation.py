"""Judges who were asked and decline: how often the coach is told."""

from datetime import datetime


def is_told(before: datetime | None, now: datetime) -> bool:
    """Whether the coach is told that a judge declines: once on a day (UTC); `before` is when that was last."""
    return before is None or before.date() != now.date()

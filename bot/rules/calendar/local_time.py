"""From the clock on the wall to an instant: times of day in a zone, also where the clocks change."""

from datetime import UTC, date, datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

Clock = Literal["usual", "twice", "never"]
"""Whether a local time happens once, twice (clocks go back) or never (clocks go forward)."""


def how_often(local: datetime, zone: ZoneInfo) -> Clock:
    """Whether a local time without offset happens once, twice or never in `zone` (PEP 495)."""
    first, second = (local.replace(tzinfo=zone, fold=fold).utcoffset() for fold in (0, 1))
    if first == second:
        return "usual"
    return "twice" if _shift(first) > _shift(second) else "never"


def instant(local: datetime, zone: ZoneInfo) -> datetime:
    """The UTC instant of a local time without offset.

    A time that happens twice is the first of the two; one that never happens becomes the first instant after the
    gap, which is when the clocks go forward.
    """
    meant = local.replace(tzinfo=zone, fold=0).astimezone(UTC)
    if how_often(local, zone) != "never":
        return meant
    return _end_of_gap(local.replace(tzinfo=zone, fold=1).astimezone(UTC), meant, zone)


def wall_clock(at: datetime, zone: ZoneInfo) -> datetime:
    """The local time, without offset, at an instant."""
    return at.astimezone(zone).replace(tzinfo=None, fold=0)


def clock_change(zone: ZoneInfo, day: date) -> timedelta:
    """By how much the clocks go forward on a day (back where it is less than none); none on most days."""
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=zone)
    after, before = noon.utcoffset(), (noon - timedelta(days=1)).utcoffset()
    return timedelta() if after is None or before is None else after - before


def _end_of_gap(before: datetime, after: datetime, zone: ZoneInfo) -> datetime:
    """The first instant with the offset of `after`, to the second; the offset changes once in between."""
    new_offset = after.astimezone(zone).utcoffset()
    while after - before > timedelta(seconds=1):
        middle = before + timedelta(seconds=(after - before) // timedelta(seconds=2))
        if middle.astimezone(zone).utcoffset() == new_offset:
            after = middle
        else:
            before = middle
    return after


def _shift(offset: timedelta | None) -> timedelta:
    return offset or timedelta()

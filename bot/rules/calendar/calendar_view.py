"""The calendar of a plan day by day: which days are listed, what is noted of each and in which order."""

from datetime import date, datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from bot.rules.calendar.calendar import Schedule

Note = Literal["closed", "reminders", "clock-change", "deadline"]
IN_ORDER: tuple[Note, ...] = ("closed", "reminders", "clock-change", "deadline")
"""What is noted of a day, in this order, as far as it is so: no school, reminders, clocks that change, the deadline."""


def listed_days(schedule: Schedule) -> list[date]:
    """Each date from the day after the brief to the deadline, closed days included."""
    brief, last = schedule.brief.astimezone(schedule.zone).date(), schedule.days[-1]
    return [brief + timedelta(days=ahead) for ahead in range(1, (last - brief).days + 1)]


def clock_change(zone: ZoneInfo, day: date) -> timedelta:
    """By how much the clocks go forward on a day (back where it is less than none); none on most days."""
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=zone)
    after, before = noon.utcoffset(), (noon - timedelta(days=1)).utcoffset()
    return timedelta() if after is None or before is None else after - before

"""Reminders to squads: how long remains, in which last days they ring, and until when one that is late must wait."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.quiet_hours import outside_quiet
from bot.rules.calendar.school_days import SchoolDays
from storage.records.plan import Plan

RINGING_DAYS = 3
"""In so many last school days those who have something left to do are rung (common practice, no source)."""
LAST_HOUR = timedelta(hours=1)
ON_TIME = timedelta(minutes=5)
"""Up to this delay a reminder goes even at night; after it the bot was down, and it waits for the morning."""


def school_days_left(plan: Plan, schedule: Schedule, now: datetime) -> int:
    """School days after today, the day of the deadline among them."""
    today, last = now.astimezone(schedule.zone).date(), schedule.deadline.astimezone(schedule.zone).date()
    school = SchoolDays(plan.calendar)
    days = (today + timedelta(days=ahead) for ahead in range(1, (last - today).days + 1))
    return sum(school.closed_because(day) is None for day in days)


def rings(school_days: int, last_hours: bool) -> bool:
    """Whether a reminder rings on the phones of those it names, or only stands in their room."""
    return last_hours or school_days <= RINGING_DAYS


def is_last_hour(deadline: datetime, now: datetime) -> bool:
    """Whether a reminder says that it is the last hour, and not one of the last hours."""
    return deadline - now <= LAST_HOUR


def held_until(plan: Plan, due: datetime, now: datetime) -> datetime | None:
    """Until when a reminder that comes late must wait because it is night; None when it may go now."""
    if now - due <= ON_TIME:
        return None
    morning, waits = outside_quiet(now, plan.calendar, ZoneInfo(plan.zone))
    return morning if waits else None

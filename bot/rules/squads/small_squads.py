"""Squads that are too small: how many members are missing, and until which school day the coach may wait for them."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.school_days import SchoolDays
from storage.records.people import Student
from storage.records.plan import Plan

DAYS = 10
"""School days from which the coach picks."""
PROPOSED = 2
"""Which of them the form proposes, counted from 1."""
REMIND_BEFORE = timedelta(days=1)
"""So long before the end the coach is reminded."""


def days_to_pick(plan: Plan, now: datetime) -> list[date]:
    """The next school days whose end is yet to come."""
    today = wall_clock(now, ZoneInfo(plan.zone)).date()
    school = SchoolDays(plan.calendar)
    found = [school.first_from(today), *school.following(today, DAYS)]
    return [day for day in found if end_of(plan, day) > now][:DAYS]


def end_of(plan: Plan, day: date) -> datetime:
    """The end of a school day: the time of day at which the brief goes out, and everything is due."""
    return instant(datetime.combine(day, plan.calendar.brief.time()), ZoneInfo(plan.zone))


def members_missing(plan: Plan, members: Sequence[Student]) -> int:
    """How many more students a squad needs before it may take part."""
    return max(0, plan.squads.smallest - len(members))


def is_small(plan: Plan, members: Sequence[Student], allowed: bool) -> bool:
    """Whether a squad is too small; not one that the coach has allowed to be."""
    return members_missing(plan, members) > 0 and not allowed

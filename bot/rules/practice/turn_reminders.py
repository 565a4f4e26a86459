"""Reminders of practice turns: how long before a turn its squad is reminded, and never at night."""

from datetime import datetime, timedelta

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.quiet_hours import outside_quiet
from bot.rules.practice.booking import is_running
from bot.rules.practice.practice_table import PracticeTable
from storage.records.plan import Plan
from storage.records.tryout import State

REMIND_BEFORE = timedelta(hours=3)
"""So long before its turn a squad is reminded."""
EVENING_BEFORE = timedelta(hours=1)
"""So long before the quiet hours a reminder comes that would fall into them."""


def is_reminded(at: datetime, begin: datetime, now: datetime) -> bool:
    """Whether a squad that has a turn from now on is reminded of it at `at`: not where the turn is so near already."""
    return now < at < begin


def is_still_due(table: PracticeTable, state: State, squad: int, begin: datetime) -> bool:
    """Whether a squad is reminded when the moment has come: while turns are booked, if it still has this one."""
    return is_running(state) and begin in table.held(squad)


def remind_at(plan: Plan, schedule: Schedule, begin: datetime) -> datetime:
    """When a squad is reminded of a turn: three hours before, or the evening before where that is in quiet hours."""
    at = begin - REMIND_BEFORE
    if not outside_quiet(at, plan.calendar, schedule.zone)[1]:
        return at
    local = wall_clock(at, schedule.zone)
    night = datetime.combine(local.date(), plan.calendar.quiet_from)
    if night > local:
        night -= timedelta(days=1)
    return outside_quiet(instant(night, schedule.zone) - EVENING_BEFORE, plan.calendar, schedule.zone)[0]

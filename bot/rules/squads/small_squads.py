"""Squads that are too small: how many members are missing, and until which school day the coach may wait for them."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.quiet_hours import outside_quiet
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.latecomers import MAY_COME_LATE
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from storage.records.tryout import State

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


def read_day(plan: Plan, typed: str, now: datetime) -> date:
    """The school day that was chosen, if it is still one to pick. Raises Refusal `grace_day`."""
    day = next((day for day in days_to_pick(plan, now) if day.isoformat() == typed), None)
    if day is None:
        raise Refusal(Reason.GRACE_DAY)
    return day


def end_of(plan: Plan, day: date) -> datetime:
    """The end of a school day: the time of day at which the brief goes out, and everything is due."""
    return instant(datetime.combine(day, plan.calendar.brief.time()), ZoneInfo(plan.zone))


def remind_at(plan: Plan, until: datetime, now: datetime) -> datetime | None:
    """When the coach is reminded that the wait for members ends, outside quiet hours; None where that is too near."""
    reminder, _ = outside_quiet(until - REMIND_BEFORE, plan.calendar, ZoneInfo(plan.zone))
    return reminder if now < reminder < until else None


def later_end(plan: Plan, now: datetime) -> datetime | None:
    """The end of the next school day where the wait ends on a day that was closed meanwhile; None where it does not."""
    today, school = wall_clock(now, ZoneInfo(plan.zone)).date(), SchoolDays(plan.calendar)
    return None if school.closed_because(today) is None else end_of(plan, school.first_from(today))


def check_small(squad: Squad, small: bool) -> None:
    """Only a squad that is too small is allowed to be, or waited for. Raises Refusal `squad_is_not_small` (squad)."""
    if not small:
        raise Refusal(Reason.SQUAD_IS_NOT_SMALL, squad=squad.name)


def members_missing(plan: Plan, members: Sequence[Student]) -> int:
    """How many more students a squad needs before it may take part."""
    return max(0, plan.squads.smallest - len(members))


def still_waits(until: datetime, now: datetime) -> bool:
    """Whether a squad that is too small still has time to find members."""
    return until > now


def is_small(plan: Plan, members: int, allowed: bool) -> bool:
    """Whether a squad with so many members is too small; not one that the coach has allowed to be."""
    return members < plan.squads.smallest and not allowed


def is_waited_for(squad: Squad, state: State, as_planned: bool, small: bool) -> bool:
    """Whether reminder and end of a wait still concern a squad: it takes part, is too small, and judging is not closed.

    `as_planned`: it got no other day since.
    """
    return as_planned and small and not squad.withdrawn and state in MAY_COME_LATE

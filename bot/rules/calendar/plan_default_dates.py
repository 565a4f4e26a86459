"""Dates that a plan leaves out, worked out from others: end of sign-up and of judging, the last turn, the event day."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant
from bot.rules.calendar.school_days import SchoolDays
from storage.records.plan import Calendar, Practice

JUDGING_DAYS = 3
"""Days from the deadline until the judges should have closed their sheets, when the plan names no date."""


def signup_closes(named: datetime | None, brief: datetime, deadline: datetime) -> datetime:
    """When sign-up closes: as the plan says, with the deadline at the latest; with the brief when it does not say."""
    return brief if named is None else min(named, deadline)


def judging_closes(named: datetime | None, deadline: datetime, zone: ZoneInfo) -> datetime:
    """When judges should be done (UTC): as the plan says, or else `JUDGING_DAYS` later at the deadline's time of day.

    Both are local; a date that is not after the deadline is taken for absent.
    """
    if named is not None and instant(named, zone) > instant(deadline, zone):
        return instant(named, zone)
    return instant(deadline + timedelta(days=JUDGING_DAYS), zone)


def last_day_with_turns(practice: Practice, days: int) -> int:
    """The last day of the window with turns at the practice table, of so many days: the last of all by default."""
    return days if practice.until_day is None else practice.until_day


def event_day(calendar: Calendar, deadline: date) -> date:
    """The event day where the plan names none: the first school day after the day of the deadline.

    Raises Refusal `no_school_days`, and as `SchoolDays`.
    """
    return SchoolDays(calendar).first_from(deadline + timedelta(days=1))

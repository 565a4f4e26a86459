"""Dates that a plan leaves out, worked out from others: end of sign-up and of judging, the last turn, the event day."""

from datetime import date, datetime, timedelta

from bot.rules.calendar.school_days import SchoolDays
from storage.records.plan import Calendar, Practice

JUDGING_DAYS = 3
"""Days from the deadline until the judges should have closed their sheets, when the plan names no date."""


def signup_closes(named: datetime | None, brief: datetime, deadline: datetime) -> datetime:
    """When sign-up closes: as the plan says, with the deadline at the latest; with the brief when it does not say."""
    return brief if named is None else min(named, deadline)


def judging_closes(deadline: datetime) -> datetime:
    """When judges should be done where the plan does not say: at the same time of day (local, as `deadline` is)."""
    return deadline + timedelta(days=JUDGING_DAYS)


def last_day_with_turns(practice: Practice, days: int) -> int:
    """The last day of the window with turns at the practice table, of so many days: the last of all by default."""
    return days if practice.until_day is None else practice.until_day


def event_day(calendar: Calendar, deadline: date) -> date:
    """The event day where the plan names none: the first school day after the day of the deadline.

    Raises Refusal `no_school_days`, and as `SchoolDays`.
    """
    return SchoolDays(calendar).first_from(deadline + timedelta(days=1))

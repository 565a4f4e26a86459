"""The window and its deadline: which days count, on which day and at what time it ends, closed days among them.

The window's day 1 is the day after the brief; the deadline is on its last day at the brief's time of day. In school
days, a brief on a day without school counts as given on the next school day; the window then has the school days after
that one (as NumPy's `busday_offset(..., roll="forward")`).
"""

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Calendar


def window_days(calendar: Calendar, school: SchoolDays, opened: date) -> tuple[tuple[date, ...], date | None]:
    """The days of the window after the day of the brief, and the closed day from which its last one was moved.

    Raises Refusal `deadline_closed` (day, next_day) where the plan refuses a deadline on a closed day.
    """
    if calendar.counting == "school":
        return school.following(opened, calendar.days), None
    last = opened + timedelta(days=calendar.days)
    open_last = school.first_from(last)
    if open_last != last and calendar.deadline_on_closed_day == "refuse":
        raise Refusal(Reason.DEADLINE_CLOSED, day=last, next_day=open_last)
    days = tuple(opened + timedelta(days=number) for number in range(1, (open_last - opened).days + 1))
    return days, last if open_last != last else None


def deadline_at(days: Sequence[date], opened: datetime) -> datetime:
    """The deadline, local as the brief is: on the last day of the window, at the brief's time of day."""
    return datetime.combine(days[-1], opened.time())

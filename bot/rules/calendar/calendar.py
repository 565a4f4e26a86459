"""The calendar of a try-out: every instant that the plan implies.

Conventions. The window's day 1 is the day after the brief; the deadline is on its last day at the brief's time of day.
In school days, a brief on a day without school counts as given on the next school day; the window then has the
school days after that one (as NumPy's `busday_offset(..., roll="forward")`). Local times that never happen or happen
twice are read as `bot.rules.calendar.local_time` says. When reminders come is in `bot.rules.calendar.reminders`.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar import default_dates
from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.reminders import Reminder, reminders_of_judges, reminders_of_window
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Calendar, Plan


@dataclass(frozen=True)
class Schedule:
    """All instants of a try-out up to the end of judging, in UTC."""

    zone: ZoneInfo
    brief: datetime
    signup_closes: datetime
    days: tuple[date, ...]
    """The days of the window, local; the deadline is on the last."""
    deadline: datetime
    moved_from: date | None
    """The closed day from which the deadline was moved."""
    judging_closes: datetime
    reminders: tuple[Reminder, ...]
    """For squads, in order: one a day and those of the last day, all between brief and deadline."""
    judging_reminders: tuple[Reminder, ...]
    """For judges, in order: one a day between deadline and close of judging."""

    def day_number(self, at: datetime) -> int:
        """The day of the window at an instant: 0 before the day after the brief, then 1 up to the last."""
        today = at.astimezone(self.zone).date()
        return sum(day <= today for day in self.days)


def schedule(plan: Plan, brief_at: datetime | None = None) -> Schedule:
    """The schedule of a plan, or, once the brief went out at `brief_at`, of what really happened.

    A sign-up that would close after the deadline closes with it; a close of judging that is not after the deadline
    is taken for absent. Raises Refusal `deadline_closed` (day, next_day) if the deadline falls on a closed day and
    the plan refuses that, and as `SchoolDays` does.
    """
    return work_out(plan.calendar, ZoneInfo(plan.zone), brief_at)


def work_out(calendar: Calendar, zone: ZoneInfo, brief_at: datetime | None = None) -> Schedule:
    """The schedule of a calendar in a zone; `schedule` says how."""
    opened = calendar.brief if brief_at is None else wall_clock(brief_at, zone)
    brief = instant(opened, zone) if brief_at is None else brief_at.astimezone(UTC)
    school = SchoolDays(calendar)
    days, moved_from = _window(calendar, school, opened.date())
    closes = datetime.combine(days[-1], opened.time())
    deadline = instant(closes, zone)
    named = instant(calendar.signup_closes, zone) if calendar.signup_closes else None
    judging_closes = instant(calendar.judging_closes, zone) if calendar.judging_closes else deadline
    if judging_closes <= deadline:
        judging_closes = instant(default_dates.judging_closes(closes), zone)
    return Schedule(
        zone=zone,
        brief=brief,
        signup_closes=default_dates.signup_closes(named, brief, deadline),
        days=days,
        deadline=deadline,
        moved_from=moved_from,
        judging_closes=judging_closes,
        reminders=reminders_of_window(calendar, zone, days, brief, deadline),
        judging_reminders=reminders_of_judges(calendar, zone, days[-1], deadline, judging_closes),
    )


def _window(calendar: Calendar, school: SchoolDays, opened: date) -> tuple[tuple[date, ...], date | None]:
    """The days of the window, and the closed day from which its last one was moved."""
    if calendar.counting == "school":
        return school.following(opened, calendar.days), None
    last = opened + timedelta(days=calendar.days)
    open_last = school.first_from(last)
    if open_last != last and calendar.deadline_on_closed_day == "refuse":
        raise Refusal(Reason.DEADLINE_CLOSED, day=last, next_day=open_last)
    days = tuple(opened + timedelta(days=number) for number in range(1, (open_last - opened).days + 1))
    return days, last if open_last != last else None

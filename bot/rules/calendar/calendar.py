"""The calendar of a try-out: every instant that the plan implies.

The days of the window and the deadline are worked out in `bot.rules.calendar.deadline`, dates that the plan leaves
out in `bot.rules.calendar.plan_default_dates`, reminders in `bot.rules.calendar.reminders`. Local times that never
happen or happen twice are read as `bot.rules.calendar.local_time` says.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from bot.rules.calendar import plan_default_dates
from bot.rules.calendar.deadline import deadline_at, window_days
from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.reminders import Reminder, reminders_of_judges, reminders_of_window
from bot.rules.calendar.school_days import SchoolDays
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

    Raises Refusal as `window_days` and `SchoolDays` do.
    """
    return work_out(plan.calendar, ZoneInfo(plan.zone), brief_at)


def work_out(calendar: Calendar, zone: ZoneInfo, brief_at: datetime | None = None) -> Schedule:
    """The schedule of a calendar in a zone; `schedule` says how."""
    opened = calendar.brief if brief_at is None else wall_clock(brief_at, zone)
    brief = instant(opened, zone) if brief_at is None else brief_at.astimezone(UTC)
    school = SchoolDays(calendar)
    days, moved_from = window_days(calendar, school, opened.date())
    closes = deadline_at(days, opened)
    deadline = instant(closes, zone)
    named = instant(calendar.signup_closes, zone) if calendar.signup_closes else None
    judging_closes = plan_default_dates.judging_closes(calendar.judging_closes, closes, zone)
    return Schedule(
        zone=zone,
        brief=brief,
        signup_closes=plan_default_dates.signup_closes(named, brief, deadline),
        days=days,
        deadline=deadline,
        moved_from=moved_from,
        judging_closes=judging_closes,
        reminders=reminders_of_window(calendar, zone, days, brief, deadline),
        judging_reminders=reminders_of_judges(calendar, zone, days[-1], deadline, judging_closes),
    )

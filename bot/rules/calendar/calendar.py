"""The calendar of a try-out: every instant that the plan implies.

Conventions. The window's day 1 is the day after the brief; the deadline is on its last day at the brief's time of day.
In school days, a brief on a day without school counts as given on the next school day; the window then has the
school days after that one (as NumPy's `busday_offset(..., roll="forward")`). Local times that never happen or happen
twice are read as `bot.rules.calendar.local_time` says. A daily reminder that falls into the quiet hours waits until
they end, and in school days until they end on a school day.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from bot.rules.calendar import default_dates
from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.school_days import FARTHEST, SchoolDays
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Calendar, Plan

SOON = timedelta(minutes=20)
"""Within so short a time a second reminder of the last hours tells nothing new."""
NOON, EVENING = time(12, 0), time(18, 0)
"""In the plan's zone; in the evening days are over that somebody was given ("until Thursday evening")."""


@dataclass(frozen=True)
class Reminder:
    """One reminder: when, and of what kind."""

    kind: Literal["daily", "last-day", "judging"]
    at: datetime
    """UTC; outside the quiet hours."""
    number: int
    """The day of the window or of judging, from 1; for `last-day` the hours before the deadline."""
    moved: bool
    """Whether it waited for the end of the quiet hours."""

    @property
    def key(self) -> str:
        """Names this reminder among all of one try-out, such as `daily-3`."""
        return f"{self.kind}-{self.number}"


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
    last_day = _last_day_reminders(calendar, zone, deadline)
    daily = [_daily_reminder(calendar, school, zone, "daily", number, day) for number, day in enumerate(days, start=1)]
    judging = [
        _daily_reminder(calendar, school, zone, "judging", number, day)
        for number, day in enumerate(
            _judging_days(calendar, school, days[-1], judging_closes.astimezone(zone)), start=1
        )
    ]
    return Schedule(
        zone=zone,
        brief=brief,
        signup_closes=default_dates.signup_closes(named, brief, deadline),
        days=days,
        deadline=deadline,
        moved_from=moved_from,
        judging_closes=judging_closes,
        reminders=_between(brief, last_day + daily, deadline),
        judging_reminders=_between(deadline, judging, judging_closes),
    )


def protest_ends(plan: Plan, announced_at: datetime) -> datetime:
    """When protests end: in the evening of the plan's last school day for them after the announcement (UTC)."""
    return school_day_ends(plan, announced_at, plan.protest_days)


def school_day_ends(plan: Plan, at: datetime, days: int) -> datetime:
    """The evening of the school day that is so many school days after an instant (UTC); none: the instant itself.

    The evening is `EVENING`, or the beginning of quiet hours that begin earlier in the afternoon.
    """
    return evening_after(plan.calendar, ZoneInfo(plan.zone), at, days)


def evening_after(calendar: Calendar, zone: ZoneInfo, at: datetime, days: int) -> datetime:
    """As `school_day_ends`, for a calendar in a zone."""
    if days == 0:
        return at.astimezone(UTC)
    quiet = calendar.quiet_from
    last = SchoolDays(calendar).following(wall_clock(at, zone).date(), days)[-1]
    return instant(datetime.combine(last, min(EVENING, quiet) if quiet >= NOON else EVENING), zone)


def reminder_before(plan: Plan, at: datetime, until: datetime) -> datetime | None:
    """When to remind of something given `at` that is due in the evening of a school day; None if there is no time.

    The daily reminder's hour on the school day before, or else noon of the last day, outside of the quiet hours (UTC).
    """
    zone, school = ZoneInfo(plan.zone), SchoolDays(plan.calendar)
    last = wall_clock(until, zone).date()
    days = (last - timedelta(days=back) for back in range(1, FARTHEST))
    before = next((day for day in days if school.closed_because(day) is None), last)
    for moment in (datetime.combine(before, plan.calendar.remind_at), datetime.combine(last, NOON)):
        found, _ = outside_quiet(instant(moment, zone), plan.calendar, zone)
        if at < found < until:
            return found
    return None


def purge_at(plan: Plan, announced_at: datetime) -> datetime:
    """When names and marks are erased: the retention days after the announcement, at the same time of day (UTC)."""
    zone = ZoneInfo(plan.zone)
    return instant(wall_clock(announced_at, zone) + timedelta(days=plan.retention_days), zone)


def is_quiet(moment: time, calendar: Calendar) -> bool:
    """Whether a time of day lies in the quiet hours; equal ends mean that there are none."""
    start, end = calendar.quiet_from, calendar.quiet_until
    if start <= end:
        return start <= moment < end
    return moment >= start or moment < end


def outside_quiet(at: datetime, calendar: Calendar, zone: ZoneInfo) -> tuple[datetime, bool]:
    """The instant itself or the end of the quiet hours it falls into, and whether it was moved."""
    moved = False
    while is_quiet((local := wall_clock(at, zone)).time(), calendar):
        end = datetime.combine(local.date(), calendar.quiet_until)
        at, moved = instant(end if end > local else end + timedelta(days=1), zone), True
    return at, moved


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


def _judging_days(calendar: Calendar, school: SchoolDays, first: date, until: datetime) -> Iterator[date]:
    day = first
    while day <= until.date():
        if calendar.counting == "calendar" or school.closed_because(day) is None:
            yield day
        day += timedelta(days=1)


def _daily_reminder(
    calendar: Calendar,
    school: SchoolDays,
    zone: ZoneInfo,
    kind: Literal["daily", "judging"],
    number: int,
    day: date,
) -> Reminder:
    moment = calendar.remind_at_on.get(number, calendar.remind_at) if kind == "daily" else calendar.remind_at
    at, moved = outside_quiet(instant(datetime.combine(day, moment), zone), calendar, zone)
    if moved and calendar.counting == "school":
        landed = wall_clock(at, zone).date()
        open_day = school.first_from(landed)
        if open_day != landed:
            at, _ = outside_quiet(instant(datetime.combine(open_day, calendar.quiet_until), zone), calendar, zone)
    return Reminder(kind=kind, at=at, number=number, moved=moved)


def _last_day_reminders(calendar: Calendar, zone: ZoneInfo, deadline: datetime) -> list[Reminder]:
    """Those so many hours before the deadline, without one that waited until shortly before the next."""
    found = []
    for hours in calendar.last_day_hours:
        at, moved = outside_quiet(deadline - timedelta(hours=hours), calendar, zone)
        found.append(Reminder(kind="last-day", at=at, number=hours, moved=moved))
    return [one for one in found if not (one.moved and any(one.at < other.at < one.at + SOON for other in found))]


def _between(start: datetime, reminders: list[Reminder], end: datetime) -> tuple[Reminder, ...]:
    """The reminders strictly between two instants in order of time; of several at one instant, the first listed."""
    first_at: dict[datetime, Reminder] = {}
    for reminder in reminders:
        if start < reminder.at < end:
            first_at.setdefault(reminder.at, reminder)
    return tuple(first_at[at] for at in sorted(first_at))

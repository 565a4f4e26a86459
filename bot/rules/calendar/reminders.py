"""Reminders to squads and to judges: when they come, on which days they ring, and which one is of the last hour.

One a day, more on the last day, none in the quiet hours. A daily reminder that falls into the quiet hours waits until
they end, and in school days until they end on a school day. One that would wait until shortly before the next is left
out.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.quiet_hours import outside_quiet
from bot.rules.calendar.school_days import SchoolDays
from storage.records.plan import Calendar

RINGING_DAYS = 3
"""In so many last school days those who have something left to do are rung (common practice, no source)."""
LAST_HOUR = timedelta(hours=1)
"""Before the deadline: a reminder says then that it is the last hour."""
SOON = timedelta(minutes=20)
"""Within so short a time a second reminder of the same kind tells nothing new."""


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


def reminders_of_window(
    calendar: Calendar, zone: ZoneInfo, days: Sequence[date], brief: datetime, deadline: datetime
) -> tuple[Reminder, ...]:
    """For squads, in order: one on each day of the window and those of the last day, between brief and deadline."""
    school = SchoolDays(calendar)
    daily = [_daily_reminder(calendar, school, zone, "daily", number, day) for number, day in enumerate(days, start=1)]
    return _between(brief, _last_day_reminders(calendar, zone, deadline) + daily, deadline)


def reminders_of_judges(
    calendar: Calendar, zone: ZoneInfo, first: date, deadline: datetime, closes: datetime
) -> tuple[Reminder, ...]:
    """For judges, in order: one a day from the `first` on, between deadline and close of judging."""
    school = SchoolDays(calendar)
    days = _judging_days(calendar, school, first, closes.astimezone(zone))
    daily = [
        _daily_reminder(calendar, school, zone, "judging", number, day) for number, day in enumerate(days, start=1)
    ]
    return _between(deadline, daily, closes)


def rings(school_days: int, last_hours: bool) -> bool:
    """Whether a reminder rings on the phones of those it names, or only stands in their room."""
    return last_hours or school_days <= RINGING_DAYS


def is_of_last_hours(key: str) -> bool:
    """Whether a reminder of this key tells of the last hours, and not of the days that are left."""
    return key.startswith("last-day")


def is_last_hour(deadline: datetime, now: datetime) -> bool:
    """Whether a reminder says that it is the last hour, and not one of the last hours."""
    return deadline - now <= LAST_HOUR


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
    """Those so many hours before the deadline."""
    found = []
    for hours in calendar.last_day_hours:
        at, moved = outside_quiet(deadline - timedelta(hours=hours), calendar, zone)
        found.append(Reminder(kind="last-day", at=at, number=hours, moved=moved))
    return found


def _between(start: datetime, reminders: list[Reminder], end: datetime) -> tuple[Reminder, ...]:
    """The reminders strictly between two instants in order of time; of several at one instant, the first listed.

    One that waited until shortly before the next of its kind is left out.
    """
    first_at: dict[datetime, Reminder] = {}
    for reminder in reminders:
        if start < reminder.at < end:
            first_at.setdefault(reminder.at, reminder)
    found = [first_at[at] for at in sorted(first_at)]
    return tuple(one for one in found if not (one.moved and _another_soon(one, found)))


def _another_soon(one: Reminder, found: Sequence[Reminder]) -> bool:
    return any(other.kind == one.kind and one.at < other.at < one.at + SOON for other in found)

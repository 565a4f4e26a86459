"""Days that somebody was given end in the evening of a school day: at which hour, and when it is reminded of before."""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.quiet_hours import outside_quiet
from bot.rules.calendar.school_days import FARTHEST, SchoolDays
from storage.records.plan import Calendar, Plan

NOON, EVENING = time(12, 0), time(18, 0)
"""In the plan's zone; in the evening days are over that somebody was given ("until Thursday evening")."""


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

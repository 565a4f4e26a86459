"""The quiet hours of a plan: what lies in them, until when it waits, and from which delay on what comes late waits."""

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from storage.records.plan import Calendar, Plan

ON_TIME = timedelta(minutes=5)
"""Up to this delay a reminder goes even at night; after it the bot was down, and it waits for the morning."""


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


def held_until(plan: Plan, due: datetime, now: datetime) -> datetime | None:
    """Until when a reminder that comes late must wait because it is night; None when it may go now."""
    if now - due <= ON_TIME:
        return None
    morning, waits = outside_quiet(now, plan.calendar, ZoneInfo(plan.zone))
    return morning if waits else None


def is_worth_saying(morning: datetime, stale_after: datetime | None) -> bool:
    """Whether what waits is said in the morning: not where that is after the last moment at which it helps anybody."""
    return stale_after is None or morning <= stale_after

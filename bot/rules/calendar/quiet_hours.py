"""The quiet hours of a plan: whether a time of day lies in them, and until when what falls into them waits."""

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from storage.records.plan import Calendar


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

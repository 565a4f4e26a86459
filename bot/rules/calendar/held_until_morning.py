"""What comes late at night waits for the morning: from which delay on, and until when."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.quiet_hours import outside_quiet
from storage.records.plan import Plan

ON_TIME = timedelta(minutes=5)
"""Up to this delay a reminder goes even at night; after it the bot was down, and it waits for the morning."""


def held_until(plan: Plan, due: datetime, now: datetime) -> datetime | None:
    """Until when a reminder that comes late must wait because it is night; None when it may go now."""
    if now - due <= ON_TIME:
        return None
    morning, waits = outside_quiet(now, plan.calendar, ZoneInfo(plan.zone))
    return morning if waits else None


def is_worth_saying(morning: datetime, stale_after: datetime | None) -> bool:
    """Whether what waits is said in the morning: not where that is after the last moment at which it helps anybody."""
    return stale_after is None or morning <= stale_after

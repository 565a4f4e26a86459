"""The announcement at a time of day: when that is next, and whether one may be planned."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.core.parse_dates import read_clock
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State


def check_waiting(state: State, announced_at: datetime | None) -> None:
    """An announcement can be planned. Raises Refusal: `already_announced`, `not_ready_to_announce`."""
    if announced_at is not None:
        raise Refusal(Reason.ALREADY_ANNOUNCED)
    if state != "settled":
        raise Refusal(Reason.NOT_READY_TO_ANNOUNCE)


def next_time(typed: str, now: datetime, zone: ZoneInfo) -> datetime:
    """When the clock on the wall next shows the time that was typed: today, or tomorrow where that is past.

    Raises Refusal: what `read_clock` raises.
    """
    local = wall_clock(now, zone)
    moment = datetime.combine(local.date(), read_clock(typed))
    return instant(moment if moment > local else moment + timedelta(days=1), zone)

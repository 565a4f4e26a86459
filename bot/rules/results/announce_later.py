"""The announcement at a time of day: when that is next, whether one may be planned, and when it is said by itself."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.core.parse_typed import read_clock
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.announce import check_not_announced
from storage.records.tryout import State


def check_waiting(state: State, announced_at: datetime | None) -> None:
    """An announcement can be planned. Raises Refusal: `already_announced`, `not_ready_to_announce`."""
    check_not_announced(announced_at)
    if not waits(state, announced_at):
        raise Refusal(ResultReason.NOT_READY_TO_ANNOUNCE)


def next_time(typed: str, now: datetime, zone: ZoneInfo) -> datetime:
    """When the clock on the wall next shows the time that was typed: today, or tomorrow where that is past.

    Raises Refusal: what `read_clock` raises.
    """
    local = wall_clock(now, zone)
    moment = datetime.combine(local.date(), read_clock(typed))
    return instant(moment if moment > local else moment + timedelta(days=1), zone)


def waits(state: State, announced_at: datetime | None) -> bool:
    """Whether an announcement that was planned can still be made."""
    return state == "settled" and announced_at is None


def says_itself(as_seen: bool, late: bool, state: State, announced_at: datetime | None) -> bool:
    """Whether it is said by itself at its time: it is what the coach has seen, it is not late, and it can be made."""
    return as_seen and not late and waits(state, announced_at)

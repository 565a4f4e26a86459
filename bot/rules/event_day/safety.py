"""Safety before a start: somebody has checked on the same day, under which name, and nobody has pressed stop."""

from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import wall_clock
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from storage.records.event_day import SafetyCheck, SafetyStop
from storage.records.people import Officer
from storage.records.plan import Event

SHORTEST_REASON, LONGEST_REASON = 3, 200
"""Characters of why a stop was pressed."""


def is_checked(
    checks: Iterable[SafetyCheck], squad_id: int, now: datetime, zone: ZoneInfo, stopped_at: datetime | None = None
) -> bool:
    """Whether somebody has checked today, and since it was last stopped: for all, or for the wave of this squad."""
    today = wall_clock(now, zone).date()
    return any(
        one.squad_id in {None, squad_id}
        and wall_clock(one.checked_at, zone).date() == today
        and (stopped_at is None or one.checked_at > stopped_at)
        for one in checks
    )


def check_safe(event: Event, checked: bool, stop: SafetyStop | None) -> None:
    """Whether a run may start; `stop` is the last one. Raises Refusal: `safety_stopped` (event, said), `safety_first`
    (event, key).
    """
    if stop is not None and stop.lifted_at is None:
        raise Refusal(DayReason.SAFETY_STOPPED, event=event.name, said=stop.reason)
    if event.cautions and not checked:
        raise Refusal(DayReason.SAFETY_FIRST, event=event.name, key=event.key)


def told_name(officers: Iterable[Officer], who: int, shown: str) -> str:
    """Under which name a check or a stop is told: as the try-out calls who helps, else as the platform shows them."""
    return next((officer.name for officer in officers if officer.platform_id == who), shown)


def read_stop_reason(typed: str) -> str:
    """Why everything stops. Raises Refusal: `stop_reason`."""
    reason = " ".join(typed.split())
    if len(reason) < SHORTEST_REASON:
        raise Refusal(DayReason.STOP_REASON)
    return reason[:LONGEST_REASON]

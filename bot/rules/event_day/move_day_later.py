"""Everything still to come on the event day moves so much later: by how many minutes at most, and what moves."""

from datetime import timedelta

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import ONE_DAY, RunningDay, later_by
from storage.records.event_day import DaySlot

LATEST = 600
"""Minutes by which a day can move at once."""


def read_minutes(typed: str) -> int:
    """Whole minutes as typed. Raises Refusal: `later_minutes` (typed, most)."""
    minutes = typed.strip()
    if not (minutes.isdecimal() and len(minutes) <= len(str(LATEST)) and 1 <= int(minutes) <= LATEST):
        raise Refusal(DayReason.LATER_MINUTES, typed=minutes, most=LATEST)
    return int(minutes)


def moved_later(day: RunningDay, by: timedelta) -> tuple[DaySlot, ...]:
    """Everything that is still to come on the same day, so much later: nobody gets into two places by it."""
    left = [slot for slot in day.slots if not day.is_over(slot)]
    first = min((slot.begins_at for slot in left), default=day.now)
    return tuple(later_by(slot, by) for slot in left if slot.begins_at < first + ONE_DAY)

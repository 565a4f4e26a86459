"""A squad that is not there for its run: when it is late, how often it goes to the end, and where that is."""

from datetime import datetime, timedelta

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import RunningDay, at_time_of
from storage.records.event_day import DaySlot

MOST_MISSES = 1
"""So often a squad that is not there goes to the end; then the coach decides."""


def check_its_time(slot: DaySlot, now: datetime) -> None:
    """Nobody is late before the time that a squad was told, also where the day runs ahead of it.

    Raises Refusal: `not_its_time` (at).
    """
    if now < slot.begins_at:
        raise Refusal(DayReason.NOT_ITS_TIME, at=int(slot.begins_at.timestamp()))


def noted_already(slot: DaySlot, before: int | None) -> bool:
    """Whether somebody has noted it since a button was shown, `before` which it had not been there so many times."""
    return before is not None and slot.misses > before


def coach_decides(slot: DaySlot) -> bool:
    """Whether the squad was not there so often already that it does not go to the end once more."""
    return slot.misses >= MOST_MISSES


def to_the_end(day: RunningDay, missed: DaySlot) -> tuple[DaySlot, ...]:
    """What moves when a squad is not there: it comes last of its section at that table, those behind it move up.

    Where somebody would get into two places by that, it only swaps with one of the last; and where that will not
    do either, it comes when the table has nobody left.

    Raises Refusal: `slot_over`; `missed_twice`, where it was not there before.
    """
    if day.is_over(missed):
        raise Refusal(DayReason.SLOT_OVER)
    if coach_decides(missed):
        raise Refusal(DayReason.MISSED_TWICE)
    mine = day.sections[missed.squad_id]
    queue = next((one.slots for one in day.queues if missed in one.slots), (missed,))
    behind = [slot for slot in queue[queue.index(missed) :] if day.sections[slot.squad_id] == mine]
    noted = missed.model_copy(update={"misses": missed.misses + 1})
    moved = [
        slot.model_copy(update={"begins_at": at.begins_at, "ends_at": at.ends_at})
        for slot, at in zip([*behind[1:], noted], behind, strict=True)
    ]
    if not day.clashing(moved):
        return tuple(moved)
    for other in reversed(behind[1:]):
        if not day.clashing(pair := (at_time_of(noted, other), at_time_of(other, noted))):
            return pair
    lasts = missed.ends_at - missed.begins_at
    begins = max(slot.ends_at for slot in (*queue, *(one for one in day.slots if one.squad_id == missed.squad_id)))
    return (noted.model_copy(update={"begins_at": begins, "ends_at": begins + lasts}),)


def waits_for_coach(slot: DaySlot) -> bool:
    """Whether a run is left out until the coach lets it be."""
    return slot.closed_at is not None


def after_everybody(day: RunningDay, slot: DaySlot, run: timedelta) -> DaySlot:
    """A run that was closed, after everybody else at its table. Raises Refusal: `slot_over` where it is not closed."""
    if slot.closed_at is None:
        raise Refusal(DayReason.SLOT_OVER)
    queue = next((one for one in day.queues if one.table == (slot.table_number or 1)), None)
    now = day.now.replace(second=0, microsecond=0)
    begins = max(now, queue.slots[-1].ends_at) if queue else now
    return slot.model_copy(update={"begins_at": begins, "ends_at": begins + run, "closed_at": None})

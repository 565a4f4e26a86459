"""Two squads have each other's time: which could swap, those whose times lie nearest first, and whether they may."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import ONE_DAY, RunningDay, at_time_of
from storage.records.event_day import DaySlot


def movable(day: RunningDay, slots: Sequence[DaySlot]) -> list[DaySlot]:
    """What of a page of the timetable can be picked to be moved: what is not over."""
    return [slot for slot in slots if not day.is_over(slot)]


def swappable(day: RunningDay, slot: DaySlot) -> list[DaySlot]:
    """What could have its time: still to come, of the same kind and day, of another squad; nearest in time first."""
    others = [
        one
        for one in day.slots
        if one.kind == slot.kind
        and one.id != slot.id
        and one.squad_id != slot.squad_id
        and not day.is_over(one)
        and abs(one.begins_at - slot.begins_at) < ONE_DAY
    ]
    return sorted(others, key=lambda one: abs(one.begins_at - slot.begins_at))


def swapped(day: RunningDay, one: DaySlot, other: DaySlot) -> tuple[DaySlot, ...]:
    """Two slots with each other's time and table.

    Raises Refusal: `slot_over`; `swap_kind`; `swap_clash` where somebody would be in two places.
    """
    if one.id == other.id:
        return (one,)
    if day.is_over(one) or day.is_over(other):
        raise Refusal(DayReason.SLOT_OVER)
    if one.kind != other.kind:
        raise Refusal(DayReason.SWAP_KIND)
    moved = (at_time_of(one, other), at_time_of(other, one))
    if day.clashing(moved):
        raise Refusal(DayReason.SWAP_CLASH)
    return moved

"""Whose times on the event day have moved, and what they were before."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime

from bot.rules.event_day.running_day import RunningDay
from storage.records.event_day import DaySlot


def moved_squads(before: Sequence[DaySlot], after: Sequence[DaySlot]) -> set[int]:
    """The squads that read other times or places than before: those alone are told."""

    def read(slots: Sequence[DaySlot]) -> dict[int, set[tuple[object, ...]]]:
        found: dict[int, set[tuple[object, ...]]] = defaultdict(set)
        for slot in slots:
            found[slot.squad_id].add((slot.kind, slot.event, slot.begins_at, slot.ends_at, slot.table_number))
        return found

    one, other = read(before), read(after)
    return {squad for squad in one.keys() | other.keys() if one.get(squad) != other.get(squad)}


def told_slots(day: RunningDay, squad: int) -> list[DaySlot]:
    """The times that a squad is told when some have moved: all of its own that are still to come."""
    return [slot for slot in day.slots if slot.squad_id == squad and not day.is_over(slot)]


def earlier_slots(day: RunningDay, before: Sequence[DaySlot]) -> dict[int, DaySlot]:
    """What each slot was before, by its id: a squad's second run is held against what was its second run then."""
    then = replace(day, slots=tuple(before))

    def as_read(on: RunningDay, slot: DaySlot) -> tuple[object, ...]:
        return slot.squad_id, slot.event, slot.kind, on.ranks.get(slot.id) if slot.kind == "run" else slot.number

    read = {as_read(then, slot): slot for slot in before if slot.closed_at is None}
    return {slot.id: read[as_read(day, slot)] for slot in day.slots if as_read(day, slot) in read}


def moved_judges(before: Sequence[DaySlot], after: Sequence[DaySlot]) -> set[int]:
    """The judges who are told that their interviews have moved.

    Whoever had no interview at all reads the first ones in a message of their own.
    """
    old, new = _talks(before), _talks(after)
    return {judge for judge, talks in old.items() if talks != new.get(judge)}


def _talks(slots: Iterable[DaySlot]) -> dict[int, set[tuple[int, datetime]]]:
    """Whom each judge meets, and when."""
    found: dict[int, set[tuple[int, datetime]]] = defaultdict(set)
    for slot in slots:
        for judge in slot.judges:
            found[judge].add((slot.squad_id, slot.begins_at))
    return found

"""The day as it runs: who is on at each table, who is next, and how a change moves what follows."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cached_property

from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.core.refusal import Refusal
from bot.rules.event_day.call_up_limits import CALLED
from bot.rules.event_day.timetable import Activity, Clash, Slot, clashes
from storage.records.event_day import DaySlot
from storage.records.scores import Attempt

MOST_MISSES = 1
"""So often a squad that is not there goes to the end; then the coach decides."""
ONE_DAY = timedelta(hours=16)
"""What begins within so many hours of the first thing that is still to come is on the same day."""


@dataclass(frozen=True)
class Queue:
    """What is still to come at one table on one day, in order."""

    table: int
    slots: tuple[DaySlot, ...]

    @property
    def on(self) -> DaySlot | None:
        """Whose turn it is."""
        return self.slots[0] if self.slots else None

    @property
    def next(self) -> tuple[DaySlot, ...]:
        """Who should get ready."""
        return self.slots[1 : 1 + CALLED]


def called(queue: Queue) -> tuple[tuple[int, DaySlot], ...]:
    """Who is called at a table: whoever is on and the next squads, each with how many squads are before it.

    A squad that runs twice in a row is called once: for the first of the two.
    """
    found: dict[int, DaySlot] = {}
    for slot in queue.slots:
        if len(found) <= CALLED:
            found.setdefault(slot.squad_id, slot)
    return tuple(enumerate(found.values()))


def attempts_made(attempts: Iterable[Attempt]) -> dict[tuple[int, str], int]:
    """How many attempts each squad has on record in an event: the most at one measure, run-offs apart."""
    made: dict[tuple[int, str, str], int] = defaultdict(int)
    for one in attempts:
        if not one.run_off and one.undone_at is None:
            made[one.squad_id, one.event, one.measure] += 1
    most: dict[tuple[int, str], int] = defaultdict(int)
    for (squad, event, _), number in made.items():
        most[squad, event] = max(most[squad, event], number)
    return dict(most)


@dataclass(frozen=True)
class RunningDay:
    """The timetable at one moment of the database."""

    slots: tuple[DaySlot, ...]
    sections: Mapping[int, str]
    """The section of each squad."""
    made: Mapping[tuple[int, str], int]
    """How many attempts each squad has on record in an event."""
    now: datetime
    away: frozenset[tuple[int, str]] = frozenset()
    """Squads that do not take part in an event."""

    @cached_property
    def ranks(self) -> dict[int, int]:
        """Which attempt each run is, by the order of the squad's runs in an event, whatever it was once planned as."""
        found: dict[int, int] = {}
        runs: dict[tuple[int, str], int] = defaultdict(int)
        for slot in sorted(self.slots, key=lambda one: (one.begins_at, one.id)):
            if slot.kind == "run" and slot.closed_at is None:
                runs[slot.squad_id, slot.event] += 1
                found[slot.id] = runs[slot.squad_id, slot.event]
        return found

    def is_over(self, slot: DaySlot) -> bool:
        """Whether it needs nobody any more: the attempt is on record, or the interview's time is past."""
        if slot.closed_at is not None or (slot.squad_id, slot.event) in self.away:
            return True
        if slot.kind == "interview":
            return slot.ends_at <= self.now
        return self.made.get((slot.squad_id, slot.event), 0) >= self.ranks[slot.id]

    @cached_property
    def queues(self) -> tuple[Queue, ...]:
        """What is still to come at each table on the next day that has something to come."""
        left = [slot for slot in self.slots if slot.kind == "run" and not self.is_over(slot)]
        if not left:
            return ()
        first = min(slot.begins_at for slot in left)
        today = sorted((one for one in left if one.begins_at < first + ONE_DAY), key=lambda one: one.begins_at)
        tables = sorted({slot.table_number or 1 for slot in today})
        return tuple(Queue(table, tuple(s for s in today if (s.table_number or 1) == table)) for table in tables)

    def slot(self, slot_id: int) -> DaySlot:
        """One slot; Refusal `no_slot`."""
        for slot in self.slots:
            if slot.id == slot_id:
                return slot
        raise Refusal(DayReason.NO_SLOT)

    def check_its_time(self, slot: DaySlot) -> None:
        """Nobody is late before the time that a squad was told, also where the day runs ahead of it.

        Raises Refusal: `not_its_time` (at).
        """
        if self.now < slot.begins_at:
            raise Refusal(DayReason.NOT_ITS_TIME, at=int(slot.begins_at.timestamp()))

    def to_the_end(self, missed: DaySlot) -> tuple[DaySlot, ...]:
        """What moves when a squad is not there: it comes last of its section at that table, those behind it move up.

        Where somebody would get into two places by that, it only swaps with one of the last; and where that will not
        do either, it comes when the table has nobody left.

        Raises Refusal: `slot_over`; `missed_twice`, where it was not there before.
        """
        if self.is_over(missed):
            raise Refusal(DayReason.SLOT_OVER)
        if missed.misses >= MOST_MISSES:
            raise Refusal(DayReason.MISSED_TWICE)
        mine = self.sections[missed.squad_id]
        queue = next((one.slots for one in self.queues if missed in one.slots), (missed,))
        behind = [slot for slot in queue[queue.index(missed) :] if self.sections[slot.squad_id] == mine]
        noted = missed.model_copy(update={"misses": missed.misses + 1})
        moved = [
            slot.model_copy(update={"begins_at": at.begins_at, "ends_at": at.ends_at})
            for slot, at in zip([*behind[1:], noted], behind, strict=True)
        ]
        if not self._clashing(moved):
            return tuple(moved)
        for other in reversed(behind[1:]):
            if not self._clashing(pair := (_at(noted, other), _at(other, noted))):
                return pair
        lasts = missed.ends_at - missed.begins_at
        begins = max(slot.ends_at for slot in (*queue, *(one for one in self.slots if one.squad_id == missed.squad_id)))
        return (noted.model_copy(update={"begins_at": begins, "ends_at": begins + lasts}),)

    def swapped(self, one: DaySlot, other: DaySlot) -> tuple[DaySlot, ...]:
        """Two slots with each other's time and table.

        Raises Refusal: `slot_over`; `swap_kind`; `swap_clash` where somebody would be in two places.
        """
        if one.id == other.id:
            return (one,)
        if self.is_over(one) or self.is_over(other):
            raise Refusal(DayReason.SLOT_OVER)
        if one.kind != other.kind:
            raise Refusal(DayReason.SWAP_KIND)
        moved = (_at(one, other), _at(other, one))
        if self._clashing(moved):
            raise Refusal(DayReason.SWAP_CLASH)
        return moved

    def later(self, by: timedelta) -> tuple[DaySlot, ...]:
        """Everything that is still to come on the same day, so much later: nobody gets into two places by it."""
        left = [slot for slot in self.slots if not self.is_over(slot)]
        first = min((slot.begins_at for slot in left), default=self.now)
        return tuple(
            slot.model_copy(update={"begins_at": slot.begins_at + by, "ends_at": slot.ends_at + by})
            for slot in left
            if slot.begins_at < first + ONE_DAY
        )

    def on_other_days(self, days: Mapping[int, timedelta]) -> tuple[DaySlot, ...]:
        """Slots by id, each so much later: the days of the event have moved."""
        return tuple(
            slot.model_copy(update={"begins_at": slot.begins_at + by, "ends_at": slot.ends_at + by})
            for slot in self.slots
            if (by := days.get(slot.id)) is not None and not self.is_over(slot)
        )

    def _clashing(self, moved: Iterable[DaySlot]) -> list[Clash]:
        """What gets into two places by a change, that was not before."""
        changed = {slot.id: slot for slot in moved}
        before = {_names(clash) for clash in clashes([as_slot(slot) for slot in self.slots])}
        after = clashes([as_slot(changed.get(slot.id, slot)) for slot in self.slots])
        return [clash for clash in after if _names(clash) not in before]


def _at(slot: DaySlot, place: DaySlot) -> DaySlot:
    taken = {"begins_at": place.begins_at, "ends_at": place.ends_at, "table_number": place.table_number}
    return slot.model_copy(update=taken)


def _names(clash: Clash) -> tuple[object, ...]:
    return (clash.what, clash.one.activity, clash.other.activity)


def as_slot(slot: DaySlot) -> Slot:
    """A slot as the timetable knows it."""
    activity = Activity(slot.kind, slot.squad_id, slot.event, slot.number, slot.judges)
    return Slot(activity, slot.begins_at, slot.ends_at, slot.table_number)


def moved_squads(before: Sequence[DaySlot], after: Sequence[DaySlot]) -> set[int]:
    """The squads that read other times or places than before: those alone are told."""

    def read(slots: Sequence[DaySlot]) -> dict[int, set[tuple[object, ...]]]:
        found: dict[int, set[tuple[object, ...]]] = defaultdict(set)
        for slot in slots:
            found[slot.squad_id].add((slot.kind, slot.event, slot.begins_at, slot.ends_at, slot.table_number))
        return found

    one, other = read(before), read(after)
    return {squad for squad in one.keys() | other.keys() if one.get(squad) != other.get(squad)}


def earlier_slots(day: RunningDay, before: Sequence[DaySlot]) -> dict[int, DaySlot]:
    """What each slot was before, by its id: a squad's second run is held against what was its second run then."""
    then = replace(day, slots=tuple(before))

    def as_read(on: RunningDay, slot: DaySlot) -> tuple[object, ...]:
        return slot.squad_id, slot.event, slot.kind, on.ranks.get(slot.id) if slot.kind == "run" else slot.number

    read = {as_read(then, slot): slot for slot in before if slot.closed_at is None}
    return {slot.id: read[as_read(day, slot)] for slot in day.slots if as_read(day, slot) in read}

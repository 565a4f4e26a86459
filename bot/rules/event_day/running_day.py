"""The day as it runs: in which order squads are still to come at each table, and what is over."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.timetable import Activity, Clash, Slot, clashes
from storage.records.event_day import DaySlot
from storage.records.plan import Event
from storage.records.plan_measures import Measure, Rubric, Share
from storage.records.scores import Attempt

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


def run_measures(event: Event) -> list[Measure]:
    """What squads do in their runs: what is recorded at the table, apart from how many members took part."""
    return [one for one in event.measures if not isinstance(one, Rubric | Share)]


def has_runs(slots: Iterable[DaySlot], event: str = "") -> bool:
    """Whether a timetable has runs of an event, or of any: so that it says which squad is next at the table."""
    return any(slot.kind == "run" and event in {"", slot.event} for slot in slots)


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

    def clashing(self, moved: Iterable[DaySlot]) -> list[Clash]:
        """What gets into two places by a change, that was not before."""
        changed = {slot.id: slot for slot in moved}
        before = {_names(clash) for clash in clashes([as_slot(slot) for slot in self.slots])}
        after = clashes([as_slot(changed.get(slot.id, slot)) for slot in self.slots])
        return [clash for clash in after if _names(clash) not in before]


def next_at_table(day: RunningDay, squad: int, event: str) -> int | None:
    """Who is on next at the table at which a squad has just run in an event; None where nobody is left at it."""
    mine = [slot for slot in day.slots if (slot.squad_id, slot.event, slot.kind) == (squad, event, "run")]
    over = [slot for slot in mine if day.is_over(slot)]
    table = (over or mine)[-1].table_number if mine else None
    for queue in day.queues:
        if table == queue.table and queue.on is not None and queue.on.event == event:
            return queue.on.squad_id
    return None


def at_time_of(slot: DaySlot, place: DaySlot) -> DaySlot:
    """A slot at the time and table of another one."""
    taken = {"begins_at": place.begins_at, "ends_at": place.ends_at, "table_number": place.table_number}
    return slot.model_copy(update=taken)


def later_by(slot: DaySlot, by: timedelta) -> DaySlot:
    """A slot so much later, or earlier."""
    return slot.model_copy(update={"begins_at": slot.begins_at + by, "ends_at": slot.ends_at + by})


def _names(clash: Clash) -> tuple[object, ...]:
    return (clash.what, clash.one.activity, clash.other.activity)


def as_slot(slot: DaySlot) -> Slot:
    """A slot as the timetable knows it."""
    activity = Activity(slot.kind, slot.squad_id, slot.event, slot.number, slot.judges)
    return Slot(activity, slot.begins_at, slot.ends_at, slot.table_number)

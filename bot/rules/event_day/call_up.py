"""Calling squads on the event day: who is called, how many and how early, and until when it helps."""

from collections.abc import Collection, Iterable
from datetime import datetime, timedelta

from bot.rules.event_day.running_day import Queue
from storage.records.event_day import DaySlot

TOO_LATE = timedelta(hours=1)
"""After so long a call helps nobody."""
CALLED = 2
"""So many squads behind the one that is on are called."""
CALL_RUNS = 2
"""So many runs before its time a squad may be called."""


def called(queue: Queue) -> tuple[tuple[int, DaySlot], ...]:
    """Who is called at a table: whoever is on and the next squads, each with how many squads are before it.

    A squad that runs twice in a row is called once: for the first of the two.
    """
    found: dict[int, DaySlot] = {}
    for slot in queue.slots:
        if len(found) <= CALLED:
            found.setdefault(slot.squad_id, slot)
    return tuple(enumerate(found.values()))


def call_at(slot: DaySlot, run: timedelta) -> datetime:
    """When the call of a run is looked at; `run` is how long one takes."""
    return slot.begins_at - run * CALL_RUNS


def is_near(slot: DaySlot, run: timedelta, now: datetime) -> bool:
    """Whether it is nearly the time of a run, so that its squad is called."""
    return slot.begins_at <= now + run * (CALL_RUNS + CALLED)


def is_called(slot: DaySlot, run: timedelta, now: datetime, stopped: Collection[str]) -> bool:
    """Whether the squad of a run is called now: once, when its time is near, and not while its event is stopped."""
    return slot.called_at is None and slot.event not in stopped and is_near(slot, run, now)


def called_anew(moved: DaySlot) -> DaySlot:
    """A slot at another time: its squad is called once more, though it was called before."""
    return moved.model_copy(update={"called_at": None})


def calls_to_plan(slots: Iterable[DaySlot], run: timedelta, now: datetime) -> list[datetime]:
    """When calls are looked at from now on: for each run, none for an interview."""
    return sorted({at for slot in slots if slot.kind == "run" and (at := call_at(slot, run)) > now})


def helps(due: datetime, now: datetime) -> bool:
    """Whether a call that was due then still helps anybody."""
    return now - due < TOO_LATE

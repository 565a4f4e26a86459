"""Events are opened for judging: while what, which, and who is told."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from datetime import datetime

from bot.rules.calendar import step_facts
from bot.rules.calendar.step_facts import Facts, Lack
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry
from storage.records.event_day import DaySlot
from storage.records.people import Judge
from storage.records.plan import Event
from storage.records.tryout import BEFORE_BRIEF, FROM_BRIEF_TO_CLOSE, State


def lacks(facts: Facts) -> Iterator[Lack]:
    """What is missing before judging begins: the deadline; judges and members are worth knowing."""
    if facts.now < facts.schedule.deadline:
        yield Lack("window_open", fields={"deadline": facts.schedule.deadline})
    yield from step_facts.judges(facts)
    yield from step_facts.small_squads(facts)


def check_judging_runs(state: State) -> None:
    """Judging can be opened, looked at and closed from the brief on until it is closed.

    Raises:
        Refusal: `judging_not_begun`, `judging_over`.
    """
    if state not in FROM_BRIEF_TO_CLOSE:
        raise Refusal(Reason.JUDGING_NOT_BEGUN if state in BEFORE_BRIEF else Reason.JUDGING_OVER)


def opens_at_deadline(event: Event, opened: Collection[str]) -> bool:
    """Whether an event is opened by itself when the window ends: no surprise, and not `opened` by hand before."""
    return not event.surprise and event.key not in opened


def to_open(events: Sequence[Event], opened: Collection[str], sealed: Collection[str]) -> list[Event]:
    """The events that a coach can open by hand, in the plan's order; surprises that are `sealed` wait for their start.

    Raises:
        Refusal: `all_events_open`, `surprise_first` (event).
    """
    closed = [one for one in events if one.key not in opened]
    if not closed:
        raise Refusal(Reason.ALL_EVENTS_OPEN)
    ready = [one for one in closed if one.key not in sealed]
    if not ready:
        raise Refusal(Reason.SURPRISE_FIRST, event=closed[0].name)
    return ready


def check_may_open(event: Event, opened: Collection[str], sealed: Collection[str], judges: int) -> None:
    """An event is opened once, not while it is a sealed surprise, and if there is somebody to judge it.

    Raises:
        Refusal: `event_open` (event), `surprise_first` (event), `no_judges`.
    """
    if event.key in opened:
        raise Refusal(Reason.EVENT_OPEN, event=event.name)
    if event.key in sealed:
        raise Refusal(Reason.SURPRISE_FIRST, event=event.name)
    if not judges:
        raise Refusal(Reason.NO_JUDGES)


def is_told(judge: Judge, mine: Sequence[Entry]) -> bool:
    """Whether a judge is told that sheets are out: one who has agreed, and owes some."""
    return judge.opted_in_at is not None and any(entry.owed for entry in mine)


def meets_ahead(judge: Judge, slots: Iterable[DaySlot], events: Collection[str], now: datetime) -> bool:
    """Whether a judge is still to meet squads of these events in an interview, and is told to leave open until then."""
    return any(slot.event in events and judge.id in slot.judges and slot.begins_at > now for slot in slots)

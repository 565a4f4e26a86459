"""The live board of the event day: from when on it is shown, how many runs are done, and who was not there."""

from collections import Counter

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import RunningDay
from storage.records.event_day import DaySlot
from storage.records.tryout import FROM_BRIEF_TO_CLOSE, State


def stands(state: State, told: bool) -> bool:
    """Whether the board stands in the office: once the timetable is told, until judging is closed."""
    return state in FROM_BRIEF_TO_CLOSE and told


def check_shown(day: RunningDay, told: bool) -> None:
    """Whoever stands at a table sees the board once the timetable is told. Raises Refusal: `no_timetable`."""
    if not day.slots or not told:
        raise Refusal(DayReason.NO_TIMETABLE)


def missed(day: RunningDay) -> list[int]:
    """The squads that were not there before and still have their run to come."""
    return sorted({slot.squad_id for slot in runs(day) if slot.misses and not day.is_over(slot)})


def left_to_coach(day: RunningDay) -> list[int]:
    """The squads of which the coach decides whether they run, and has not: neither away nor with all runs on record."""
    planned, made = _planned(day), _done(day)
    closed = [(slot.squad_id, slot.event) for slot in runs(day) if slot.closed_at is not None]
    return sorted({squad for squad, event in closed if made[squad, event] < planned[squad, event]})


def done(day: RunningDay) -> int:
    """How many runs are on record, or need not be because the squad does not take part."""
    return _done(day).total()


def _planned(day: RunningDay) -> Counter[tuple[int, str]]:
    """How many runs each squad has in an event."""
    return Counter((slot.squad_id, slot.event) for slot in runs(day))


def _done(day: RunningDay) -> Counter[tuple[int, str]]:
    return Counter(
        {of: number if of in day.away else min(number, day.made.get(of, 0)) for of, number in _planned(day).items()}
    )


def runs(day: RunningDay) -> list[DaySlot]:
    """What the board counts: runs, and no interviews."""
    return [slot for slot in day.slots if slot.kind == "run"]

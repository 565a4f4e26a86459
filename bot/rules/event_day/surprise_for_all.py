"""The surprise: from when until when it can start, which of several it is, and who then reads the task."""

from collections.abc import Collection, Iterable

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.tryout import BEFORE_BRIEF, FROM_BRIEF_TO_CLOSE, State


def check_may_start(state: State, waiting: Iterable[Event]) -> list[Event]:
    """The surprises that can start, of those that wait: from the brief until judging is closed.

    Raises:
        Refusal: `surprise_early`, `surprise_over`, `no_surprise`.
    """
    if state in BEFORE_BRIEF:
        raise Refusal(DayReason.SURPRISE_EARLY)
    if state not in FROM_BRIEF_TO_CLOSE:
        raise Refusal(DayReason.SURPRISE_OVER)
    found = list(waiting)
    if not found:
        raise Refusal(DayReason.NO_SURPRISE)
    return found


def one_waiting(events: Iterable[Event], key: str) -> Event:
    """The surprise with a key; Refusal `no_surprise`."""
    for event in events:
        if event.key == key:
            return event
    raise Refusal(DayReason.NO_SURPRISE)


def reads_task_now(squads: Iterable[Squad], had_it: Collection[int]) -> list[Squad]:
    """The squads that read the task when it starts for all: those that have not had it in a wave (ids)."""
    return [squad for squad in squads if squad.id not in had_it]

"""Who is called: the next two squads, each once."""

from datetime import datetime
from typing import Literal

from bot.rules.event_day.call_up import called, called_anew, calls_to_plan, is_called
from bot.rules.event_day.running_day import Queue
from storage.records.event_day import DaySlot
from tests.rules.event_day.days import BASE, minutes


def test_a_squad_that_runs_twice_in_a_row_is_called_once_and_the_next_two_squads_after_it() -> None:
    slots = tuple(
        DaySlot(id=number, squad_id=squad, kind="run", event="run", begins_at=at, ends_at=at + minutes(5))
        for number, squad in enumerate((1, 1, 2, 2, 3, 4), start=1)
        for at in [BASE + minutes(5 * number)]
    )
    assert [(before, one.id) for before, one in called(Queue(1, slots))] == [(0, 1), (1, 3), (2, 5)]
    assert [(before, one.id) for before, one in called(Queue(1, slots[1:]))] == [(0, 2), (1, 3), (2, 5)]
    assert called(Queue(1, ())) == ()


def slot(number: int, kind: Literal["run", "interview"] = "run", called_at: datetime | None = None) -> DaySlot:
    at = BASE + minutes(5 * number)
    return DaySlot(
        id=number, squad_id=number, kind=kind, event="run", begins_at=at, ends_at=at + minutes(5), called_at=called_at
    )


def test_a_squad_is_called_once_near_its_time_and_not_while_its_event_is_stopped() -> None:
    assert is_called(slot(4), minutes(5), BASE, ())
    assert not is_called(slot(5), minutes(5), BASE, ())
    assert not is_called(slot(1), minutes(5), BASE, {"run"})
    assert not is_called(slot(1, called_at=BASE), minutes(5), BASE, ())


def test_who_moves_is_called_once_more() -> None:
    assert is_called(called_anew(slot(1, called_at=BASE)), minutes(5), BASE, ())


def test_calls_are_looked_at_two_runs_before_each_run_that_is_to_come() -> None:
    found = [slot(4), slot(3, "interview"), slot(2), slot(3)]
    assert calls_to_plan(found, minutes(5), BASE) == [BASE + minutes(5), BASE + minutes(10)]

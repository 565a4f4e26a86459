"""Who is called: the next two squads, each once."""

from bot.rules.event_day.call_up import called
from bot.rules.event_day.running_day import Queue
from storage.records.day_timetable import DaySlot
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

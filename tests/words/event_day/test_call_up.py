"""What a squad reads when it is called: its place in the line, however many are called."""

from bot.rules.event_day.running_day import RunningDay
from bot.words.event_day.call_up import called
from storage.records.event_day import DaySlot
from tests.rules.books import count, event, plan
from tests.rules.event_day.days import BASE, minutes

SLOT = DaySlot(id=1, squad_id=1, kind="run", event="run", begins_at=BASE + minutes(5), ends_at=BASE + minutes(10))
DAY = RunningDay(slots=(SLOT,), sections={1: "7A"}, made={}, now=BASE)


def test_every_place_in_the_line_is_told_as_it_is() -> None:
    said = [called(plan(event("run", count())), DAY, SLOT, before, BASE).text for before in range(5)]
    assert [text.partition("**You are ")[2].partition(" in line**")[0] for text in said] == [
        *("first", "second", "third"),
        *("number 4", "number 5"),
    ]

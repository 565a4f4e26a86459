"""What the paper kit holds, and what the sealed file leaves out."""

from bot.rules.event_day.paper_kit import known_events, parts
from tests.rules.books import count, event


def test_the_sealed_file_holds_what_is_filled_in_and_the_task_and_no_timetable_or_roster() -> None:
    assert parts(sealed=False) == ("timetable", "roster", "equipment", "run sheets", "score sheets", "text")
    assert parts(sealed=True) == ("equipment", "run sheets", "score sheets", "text")


def test_what_is_secret_for_somebody_is_in_no_file_that_everybody_sees() -> None:
    run, riddle = event("run", count()), event("riddle", count())
    assert known_events([run, riddle], [riddle]) == [run]

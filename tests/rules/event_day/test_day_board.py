"""When the live board is shown, what it counts, and whom it says the coach decides about."""

from dataclasses import replace

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.event_day import day_board as rules
from bot.rules.event_day.running_day import RunningDay
from tests.rules.event_day.days import BASE, after, running


def closed_run() -> tuple[RunningDay, int]:
    """A day on which one squad has run once, and its other run is left to the coach."""
    found = running()
    squad = rules.runs(found)[0].squad_id
    last = [slot for slot in rules.runs(found) if slot.squad_id == squad][-1]
    left = after(found, (last.model_copy(update={"closed_at": BASE, "misses": 1}),))
    return replace(left, made={(squad, "sock-run"): 1}), squad


def test_a_run_that_is_left_to_the_coach_is_not_done() -> None:
    day, squad = closed_run()
    assert (rules.left_to_coach(day), rules.done(day)) == ([squad], 1)


def test_the_coach_has_decided_once_the_squad_is_away_or_has_run_all_the_same() -> None:
    day, squad = closed_run()
    for decided in (replace(day, away=frozenset({(squad, "sock-run")})), replace(day, made={(squad, "sock-run"): 2})):
        assert (rules.left_to_coach(decided), rules.done(decided)) == ([], 2)


def test_attempts_beyond_the_runs_of_the_timetable_are_not_counted() -> None:
    day, squad = closed_run()
    assert rules.done(replace(day, made={(squad, "sock-run"): 3})) == 2


def test_the_board_is_shown_at_a_table_once_the_timetable_is_told() -> None:
    rules.check_shown(running(), True)
    with pytest.raises(Refusal, match="no_timetable"):
        rules.check_shown(running(), False)

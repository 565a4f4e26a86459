"""Which practice turns are no more after dates were moved, and which the coach can note as lost or close."""

from datetime import UTC, datetime, time, timedelta

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.practice import lost_closed_or_cancelled_turns as rules
from bot.rules.practice.lost_closed_or_cancelled_turns import stranded
from bot.rules.practice.practice_table import PracticeTable
from storage.records.plan import Practice
from storage.records.practice import Turn
from tests.rules.practice.test_practice_table import DAY, START, turn


def test_after_dates_moved_only_turns_to_come_that_are_gone_are_stranded() -> None:
    turns = [turn(START + n * DAY, 1) for n in range(4)] + [turn(START + 4 * DAY, 1, "lost")]
    kept = [START + 3 * DAY]
    assert stranded(kept, turns, START) == turns[1:3]


BEGIN = datetime(2031, 3, 3, 8, tzinfo=UTC)
HOUR = timedelta(hours=1)


def table(*turns: Turn) -> PracticeTable:
    practice = Practice(times=(time(8),), minutes=20)
    return PracticeTable(practice, tuple(BEGIN + HOUR * number for number in range(4)), turns, (1, 2))


def taken(number: int, state: str, squad: int | None = 1) -> Turn:
    return Turn.model_validate({"tryout_id": 1, "begins_at": BEGIN + HOUR * number, "squad_id": squad, "state": state})


def test_a_turn_can_be_lost_when_it_is_over_but_closed_only_before_it_begins() -> None:
    held, later = table(taken(0, "held")), BEGIN + HOUR
    assert rules.check_held(held, BEGIN) == 1
    assert rules.check_may_close(held, BEGIN, BEGIN - HOUR) == 1
    with pytest.raises(Refusal, match="turn_over"):
        rules.check_may_close(held, BEGIN, later)
    assert rules.check_may_close(held, BEGIN + HOUR, BEGIN) is None, "a free turn is closed for nobody"


def test_what_is_taken_back_was_lost_and_what_is_opened_was_closed() -> None:
    found = table(taken(0, "lost"), taken(1, "blocked", None), taken(2, "held"))
    assert rules.check_lost(found, BEGIN) == 1
    rules.check_closed(found, BEGIN + HOUR)
    with pytest.raises(Refusal, match="turn_not_held"):
        rules.check_lost(found, BEGIN + 2 * HOUR)
    with pytest.raises(Refusal, match="turn_not_held"):
        rules.check_held(found, BEGIN)
    with pytest.raises(Refusal, match="turn_not_blocked"):
        rules.check_closed(found, BEGIN)

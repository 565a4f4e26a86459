"""Which page of all practice turns comes up first, and what the coach can do with which turn."""

from datetime import UTC, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.practice import all_turns_admin as rules
from bot.rules.practice.all_turns_admin import page_of_next_turn
from bot.rules.practice.practice_table import PracticeTable
from storage.records.plan import Practice
from storage.records.practice import Turn

BEGIN = datetime(2031, 3, 3, 8, tzinfo=UTC)
HOUR = timedelta(hours=1)


@given(st.integers(1, 80), st.integers(-5, 90), st.integers(1, 25))
def test_the_page_that_comes_up_first_holds_the_next_turn_or_is_the_last(turns: int, gone: int, size: int) -> None:
    slots = [BEGIN + HOUR * number for number in range(turns)]
    now = BEGIN + HOUR * gone
    page = page_of_next_turn(slots, now, size)
    shown = slots[page * size :][:size]
    next_one = next((begin for begin in slots if begin > now), slots[-1])
    assert next_one in shown


def test_without_any_turn_the_first_page_comes_up() -> None:
    assert page_of_next_turn([], BEGIN, 25) == 0


def table(*turns: Turn) -> PracticeTable:
    practice = Practice(times=(time(8),), minutes=20)
    return PracticeTable(practice, tuple(BEGIN + HOUR * number for number in range(4)), turns, (1, 2))


def turn(number: int, state: str, squad: int | None = 1) -> Turn:
    return Turn.model_validate({"tryout_id": 1, "begins_at": BEGIN + HOUR * number, "squad_id": squad, "state": state})


def test_a_turn_can_be_lost_when_it_is_over_but_given_back_and_closed_only_before_it_begins() -> None:
    held, later = table(turn(0, "held")), BEGIN + HOUR
    assert rules.check_held(held, BEGIN) == 1
    assert rules.check_may_release(held, BEGIN, BEGIN - HOUR) == 1 == rules.check_may_close(held, BEGIN, BEGIN - HOUR)
    for refused in (rules.check_may_release, rules.check_may_close):
        with pytest.raises(Refusal, match="turn_over"):
            refused(held, BEGIN, later)
    assert rules.check_may_close(held, BEGIN + HOUR, BEGIN) is None, "a free turn is closed for nobody"


def test_what_is_taken_back_was_lost_and_what_is_opened_was_closed() -> None:
    found = table(turn(0, "lost"), turn(1, "blocked", None), turn(2, "held"))
    assert rules.check_lost(found, BEGIN) == 1
    rules.check_closed(found, BEGIN + HOUR)
    with pytest.raises(Refusal, match="turn_not_held"):
        rules.check_lost(found, BEGIN + 2 * HOUR)
    with pytest.raises(Refusal, match="turn_not_held"):
        rules.check_held(found, BEGIN)
    with pytest.raises(Refusal, match="turn_not_blocked"):
        rules.check_closed(found, BEGIN)

"""Which page of all practice turns comes up first, and what the coach can do with which turn."""

from datetime import UTC, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.practice.all_turns_admin import check_may_give_back_for, deeds, page_of_next_turn
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


def test_a_turn_that_has_begun_can_only_be_noted_as_lost_or_not_lost() -> None:
    def turn(state: str) -> Turn:
        squad = None if state == "blocked" else 1
        return Turn.model_validate({"tryout_id": 1, "begins_at": BEGIN, "squad_id": squad, "state": state})

    turns = [None, turn("held"), turn("lost"), turn("blocked")]
    assert [deeds(one, True) for one in turns] == [set(), {"lose"}, {"unlose"}, set()]
    assert [deeds(one, False) for one in turns] == [
        {"book", "close"},
        {"lose", "release", "close"},
        {"unlose"},
        {"open"},
    ]


def test_the_coach_gives_a_squads_turn_back_until_it_begins() -> None:
    held = Turn(tryout_id=1, begins_at=BEGIN, squad_id=1, state="held")
    found = PracticeTable(Practice(times=(time(8),), minutes=20), (BEGIN, BEGIN + HOUR), (held,), (1, 2))
    assert check_may_give_back_for(found, BEGIN, BEGIN - HOUR) == 1
    with pytest.raises(Refusal, match="turn_over"):
        check_may_give_back_for(found, BEGIN, BEGIN + HOUR)
    with pytest.raises(Refusal, match="turn_not_held"):
        check_may_give_back_for(found, BEGIN + HOUR, BEGIN)

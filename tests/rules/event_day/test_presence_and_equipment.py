"""Who is here, whether a squad may start, and how many pieces it is given."""

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.presence_and_equipment import Attendance, attendance, check_may_start, is_ticked, pieces
from storage.records.event_day import Tick
from storage.records.plan import Equipment
from tests.actions.conftest import small_plan

NOW = datetime(2027, 1, 21, 9, 0, tzinfo=UTC)
CHAIN = (
    small_plan()
    .events[2]
    .model_copy(update={"equipment": Equipment(name="pairs of scissors", pieces="present - 1"), "least_present": 2})
)


def tick(student: int, here: bool) -> Tick:
    return Tick(squad_id=1, event="chain", student_id=student, here=here, noted_by=9, noted_at=NOW)


def test_nobody_has_looked_until_somebody_has_and_newcomers_are_away_until_ticked() -> None:
    assert attendance([1, 2], []).present is None
    found = attendance([1, 2, 3], [tick(1, True), tick(2, False), tick(8, True)])
    assert found == Attendance((1, 2, 3), frozenset({1}))


@pytest.mark.parametrize(
    ("here", "coach", "reason"),
    [
        (None, True, "presence_first"),
        (1, False, "present_too_few"),
        (1, True, ""),
        (2, False, ""),
        (0, False, "present_too_few"),
    ],
)
def test_a_squad_starts_once_somebody_has_looked_and_enough_are_here(
    here: int | None, coach: bool, reason: str
) -> None:
    found = Attendance((1, 2, 3), None if here is None else frozenset(range(here)))
    try:
        check_may_start(CHAIN, found, coach)
        refused = ""
    except Refusal as refusal:
        refused = refusal.reason
    assert refused == reason


def test_where_the_plan_asks_nothing_nobody_need_look() -> None:
    check_may_start(small_plan().events[0], Attendance((1, 2, 3), None), False)


def test_everybody_is_ticked_until_somebody_has_looked_then_those_who_are_here() -> None:
    assert is_ticked(attendance([1, 2], []), 2)
    assert [is_ticked(attendance([1, 2], [tick(1, True)]), one) for one in (1, 2)] == [True, False]


@pytest.mark.parametrize(
    ("formula", "present", "given"),
    [
        # "1 stepping piece for every 2 people; elsewhere 1-2 fewer pieces than people" (common practice, no source).
        ("present - 1", 5, 4),
        ("present - 2", 1, 0),
        ("present / 2", 5, 3),
        ("present/2+1", 4, 3),
        ("present", 4, 4),
        ("present / 3 - 1", 0, 0),
    ],
)
def test_pieces_follow_the_formula_of_the_plan(formula: str, present: int, given: int) -> None:
    assert pieces(Equipment(name="pieces", pieces=formula), present) == given


@pytest.mark.parametrize("formula", ["present x 2", "present / 0", "5", "members - 1", "present - 1; 9"])
def test_another_formula_is_no_plan(formula: str) -> None:
    with pytest.raises(ValidationError):
        Equipment(name="pieces", pieces=formula)


@given(st.integers(0, 25), st.integers(1, 99), st.integers(-99, 99))
def test_pieces_are_those_of_whole_numbers(present: int, by: int, more: int) -> None:
    sign = "-" if more < 0 else "+"
    found = pieces(Equipment(name="pieces", pieces=f"present / {by} {sign} {abs(more)}"), present)
    assert found == max(0, (present + by - 1) // by + more)

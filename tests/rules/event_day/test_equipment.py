"""How many pieces a squad is given, by how many of it are here."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from bot.rules.event_day.equipment import pieces
from storage.records.plan import Equipment


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

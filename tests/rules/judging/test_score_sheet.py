"""How a rubric is cut into forms, and how what is filled in becomes the sheet."""

from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.judging.score_sheet import (
    FIELDS,
    changed_elsewhere,
    is_whole,
    missing,
    next_step,
    read_level,
    read_step,
    steps,
    with_step,
)
from storage.records.plan_measures import Criterion, Rubric

LEVELS = ("none", "some", "all")


def rubric(criteria: int, comments: Literal["sheet", "criterion"] = "sheet") -> Rubric:
    return Rubric(
        key="r",
        name="Rubric",
        comments=comments,
        criteria=tuple(Criterion(key=f"c{number}", name=f"C {number}", levels=LEVELS) for number in range(criteria)),
    )


@given(st.integers(1, 8), st.sampled_from(["sheet", "criterion"]))
def test_every_criterion_is_asked_once_in_order_and_every_form_fits(
    criteria: int, comments: Literal["sheet", "criterion"]
) -> None:
    asked = rubric(criteria, comments)
    parts = steps(asked)
    assert [one for part in parts for one in part.criteria] == list(asked.criteria)
    assert all(1 <= len(part.criteria) + len(part.comments) <= FIELDS for part in parts)
    wanted = ["sheet"] if comments == "sheet" else [one.key for one in asked.criteria]
    assert [about for part in parts for about in part.comments] == wanted
    fields = criteria + len(wanted)
    assert len(parts) == (-(-fields // FIELDS) if comments == "sheet" else -(-criteria // 2))


def test_five_criteria_and_a_comment_are_two_even_forms() -> None:
    assert [len(part.criteria) for part in steps(rubric(5))] == [3, 2]
    assert len(steps(rubric(4))) == 1


def test_the_sheet_goes_on_at_the_first_form_with_something_to_mark() -> None:
    asked = rubric(8)
    assert next_step(asked, {}) == 0
    assert next_step(asked, {f"c{number}": 1 for number in range(4)}) == 1
    assert next_step(asked, {f"c{number}": 1 for number in range(8)}) == 0
    assert [one.key for one in missing(asked, {"c0": 1})] == [f"c{number}" for number in range(1, 8)]
    assert is_whole(asked, {f"c{number}": 1 for number in range(8)})


def test_a_form_left_half_empty_keeps_what_had_been_marked() -> None:
    part = steps(rubric(3))[0]
    entered = read_step(part, {"level-c0": "2", "note-sheet": "  fine  "})
    assert entered == ({"c0": 2}, {"sheet": "fine"})
    assert with_step(part, ({"c0": 1, "c1": 3}, {}), entered) == ({"c0": 2, "c1": 3}, {"sheet": "fine"})
    assert with_step(part, ({"c0": 1}, {"sheet": "old"}), read_step(part, {"note-sheet": ""})) == ({"c0": 1}, {})


@pytest.mark.parametrize("typed", ["0", "4", "-1", "1.5", "two", "²", " 1"])
def test_only_levels_that_there_are_can_be_marked(typed: str) -> None:
    with pytest.raises(Refusal, match="level_gone"):
        read_level(rubric(1).criteria[0], typed)


def test_a_change_made_elsewhere_is_noticed_only_where_both_differ() -> None:
    criteria = rubric(4).criteria
    opened, now, entered = {"c0": 1, "c1": 1, "c2": 1}, {"c0": 2, "c1": 3, "c2": 1}, {"c0": 3, "c1": 3, "c2": 2}
    assert [one.key for one in changed_elsewhere(criteria, opened, now, entered)] == ["c0"]

"""Comparing how judges read a rubric."""

from fractions import Fraction
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.judging.calibration_trial import off_by, readings, share_near, to_try_out
from storage.records.plan_measures import Criterion, Rubric
from tests.words.judging.longest_sheets import EVENTS

RUBRIC = Rubric(
    key="r",
    name="Rubric",
    criteria=tuple(Criterion(key=key, name=key.upper(), levels=("a", "b", "c", "d", "e")) for key in ("one", "two")),
)


def test_the_middle_of_an_even_panel_may_lie_between_two_levels() -> None:
    found = readings(RUBRIC, [{"one": 1, "two": 3}, {"one": 2, "two": 3}, {"one": 4, "two": 3}, {"one": 5, "two": 3}])
    assert (found[0].lowest, found[0].middle, found[0].highest) == (1, Fraction(3), 5)
    assert found[0].far_apart and not found[1].far_apart
    pair = readings(RUBRIC, [{"one": 1, "two": 2}, {"one": 2, "two": 2}])
    assert pair[0].middle == Fraction(3, 2)
    assert off_by(pair[0], {"one": 1, "two": 2}) == Fraction(-1, 2)


def test_the_share_of_close_marks_counts_every_mark_once() -> None:
    sheets = [{"one": 1, "two": 3}, {"one": 3, "two": 3}, {"one": 5, "two": 3}]
    assert share_near(readings(RUBRIC, sheets), sheets) == Fraction(4, 6)


@given(st.lists(st.fixed_dictionaries({"one": st.integers(1, 5), "two": st.integers(1, 5)}), min_size=1, max_size=9))
def test_the_middle_is_the_median_and_lies_within_the_range(sheets: list[dict[str, int]]) -> None:
    for reading in readings(RUBRIC, sheets):
        levels = [marks[reading.criterion.key] for marks in sheets]
        assert reading.middle == Fraction(median(levels))
        assert reading.lowest <= reading.middle <= reading.highest


def test_a_surprise_is_tried_out_once_it_has_started() -> None:
    what, secret = (EVENTS[0], RUBRIC), (EVENTS[1], RUBRIC)
    assert to_try_out([what, secret], {EVENTS[1].key}) == [what]
    with pytest.raises(Refusal, match="trial_sealed"):
        to_try_out([secret], {EVENTS[1].key})
    with pytest.raises(Refusal, match="rubric_gone"):
        to_try_out([], ())

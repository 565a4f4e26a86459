"""The sheets of a panel as one value, against worked examples."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.scoring.panel_rules import panel_value
from tests.rules.reference import reference

sheets = st.lists(st.tuples(st.fractions(0, 40), st.fractions(Fraction(1, 4), 5)), min_size=1, max_size=8)


@pytest.mark.parametrize("name", ["B4b", "B4c"])
def test_the_panel_rules_give_the_worked_example(name: str) -> None:
    """Reference B4 (own): five judges lose both ends; the four of B4c keep all of theirs."""
    example = reference(name)
    panel = [(Fraction(score), Fraction(1)) for score in example["input"]["scores"]]
    assert panel_value("mean", panel) == Fraction(example["expected"]["mean"])
    assert panel_value("median", panel) == Fraction(example["expected"]["median"])
    assert panel_value("trimmed", panel) == Fraction(example["expected"]["trimmed_mean"])


def test_the_trimmed_mean_gives_the_published_value() -> None:
    """Reference B4a (Wikipedia, Truncated mean): 20 numbers, 5 % off each end."""
    example = reference("B4a")
    panel = [(Fraction(score), Fraction(1)) for score in example["input"]["scores"]]
    assert panel_value("trimmed", panel) == Fraction(example["published"]["trimmed_mean"])
    assert panel_value("mean", panel) == Fraction(example["published"]["mean"])
    assert panel_value("median", panel) == 68


def test_a_heavier_judge_counts_more_and_one_of_weight_0_not_at_all() -> None:
    panel = [(Fraction(10), Fraction(2)), (Fraction(4), Fraction(1)), (Fraction(40), Fraction(0))]
    assert panel_value("mean", panel) == 8
    assert panel_value("median", panel) == 10
    assert panel_value("trimmed", panel) == 8


@pytest.mark.parametrize("sheets", [[], [(Fraction(3), Fraction(0))]])
def test_a_panel_without_counted_judges_is_refused(sheets: list[tuple[Fraction, Fraction]]) -> None:
    with pytest.raises(Refusal, match="panel_empty"):
        panel_value("mean", sheets)


@given(sheets, st.sampled_from(["mean", "median", "trimmed"]), st.randoms())
def test_the_order_of_the_judges_never_matters(panel: list[tuple[Fraction, Fraction]], rule: str, chance) -> None:  # type: ignore[no-untyped-def]
    shuffled = list(panel)
    chance.shuffle(shuffled)
    assert panel_value(rule, panel) == panel_value(rule, shuffled)


@given(sheets, st.sampled_from(["mean", "median", "trimmed"]))
def test_a_panel_value_lies_within_its_sheets(panel: list[tuple[Fraction, Fraction]], rule: str) -> None:
    values = [value for value, _ in panel]
    assert min(values) <= panel_value(rule, panel) <= max(values)


@given(st.lists(st.integers(0, 40), min_size=1, max_size=9), st.integers(1, 5))
def test_a_weight_of_n_is_n_judges_of_weight_one_for_mean_and_median(values: list[int], weight: int) -> None:
    heavy = [(Fraction(value), Fraction(weight if index == 0 else 1)) for index, value in enumerate(values)]
    many = [(value, Fraction(1)) for value, times in heavy for _ in range(int(times))]
    for rule in ("mean", "median"):
        assert panel_value(rule, heavy) == panel_value(rule, many)

"""The five scales, worked by hand and as properties."""

from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.scoring.scales import (
    Roots,
    between,
    between_ends,
    by_rank,
    fractional_ranks,
    of_best,
    of_maximum,
    scaled,
    standard,
)
from tests.rules.reference import reference
from tests.rules.scoring.test_measures import GAP, MASS

values = st.lists(st.fractions(0, 100, max_denominator=12), min_size=1, max_size=12)
positive = st.lists(st.fractions(Fraction(1, 9), 100, max_denominator=12), min_size=1, max_size=12)


def _columns(example: dict[str, list[list[object]]]) -> list[list[Fraction]]:
    return [[Fraction(str(value)) for value in column] for column in zip(*example["raw"], strict=True)]


@pytest.mark.parametrize("name", ["B6", "B9"])
def test_the_five_scales_give_the_worked_examples(name: str) -> None:
    """Reference B6 (five scales, five winners) and B9 (a time): own, exact."""
    example = reference(name)
    given_, expected = example["input"], example["expected"]
    columns, lower = _columns(given_), given_["lower_is_better"]
    maxima = [Fraction(maximum) for maximum in given_["maxima"]]
    ends = [(max(c), min(c)) if less else (min(c), max(c)) for c, less in zip(columns, lower, strict=True)]
    cases = {
        "percent_of_max": [of_maximum(c, m, less) for c, m, less in zip(columns, maxima, lower, strict=True)],
        "percent_of_best": [of_best(c, less) for c, less in zip(columns, lower, strict=True)],
        "min_max": [between(c, *e) for c, e in zip(columns, ends, strict=True)],
    }
    for rule, found in cases.items():
        means = [100 * sum(row, Fraction(0)) / len(row) for row in zip(*found, strict=True)]
        assert means == [Fraction(value) for value in expected[rule]]
    ranks = [fractional_ranks(c, less) for c, less in zip(columns, lower, strict=True)]
    means = [sum(row, Fraction(0)) / len(row) for row in zip(*ranks, strict=True)]
    assert means == [Fraction(value) for value in expected["rank_points_mean"]]
    z = [[10 * (s - Fraction(1, 2)) for s in standard(c, less)] for c, less in zip(columns, lower, strict=True)]
    assert [float(sum(row, Fraction(0)) / len(row)) for row in zip(*z, strict=True)] == pytest.approx(expected["z"])


def test_standard_scores_are_the_published_t_scores() -> None:
    """Reference B5 (T-score: McCall 1922; data: Wikipedia, Standard deviation), population divisor."""
    example = reference("B5")
    scores = [Fraction(score) for score in example["input"]["scores"]]
    assert [100 * score for score in standard(scores)] == example["expected"]["population"]["T"]


@pytest.mark.parametrize("name", ["B1a", "B1b"])
def test_fractional_ranks_are_the_published_ones(name: str) -> None:
    """Reference B1 (scipy.stats.rankdata, average)."""
    example = reference(name)
    assert fractional_ranks([Fraction(s) for s in example["input"]["scores"]]) == example["expected"]["fractional"]


@given(values)
def test_standard_scores_agree_with_scipy(numbers: list[Fraction]) -> None:
    from scipy import stats

    if len(set(numbers)) > 1:
        expected = stats.zscore(np.array([float(number) for number in numbers]))
        assert [float(10 * score - 5) for score in standard(numbers)] == pytest.approx(expected, rel=1e-6, abs=1e-7)


@given(values)
def test_ranks_agree_with_scipy(numbers: list[Fraction]) -> None:
    from scipy import stats

    assert fractional_ranks(numbers, lower=True) == list(stats.rankdata([float(number) for number in numbers]))


@pytest.mark.parametrize("lower", [False, True])
@pytest.mark.parametrize("squads", [1, 4])
def test_where_nobody_differs_scales_that_only_compare_give_everybody_a_half(squads: int, lower: bool) -> None:
    alike = [Fraction(7)] * squads
    assert by_rank(alike, lower) == standard(alike, lower) == between_ends(alike, lower) == [Fraction(1, 2)] * squads
    assert of_best(alike, lower) == [1] * squads


def test_no_squads_need_no_scale() -> None:
    assert of_maximum([], Fraction(9)) == of_best([]) == by_rank([]) == standard([]) == []


def test_where_nobody_scored_everybody_has_zero_of_the_best() -> None:
    assert of_best([Fraction(0), Fraction(0)]) == [0, 0]


def test_without_spread_standard_scores_are_all_in_the_middle() -> None:
    assert standard([Fraction(3)] * 4) == [Fraction(1, 2)] * 4


def test_a_time_beyond_the_limit_through_faults_is_worth_zero_not_less() -> None:
    assert of_maximum([Fraction(320)], Fraction(300), lower=True) == [0]


def test_who_did_not_finish_ranks_behind_everybody_who_did() -> None:
    assert by_rank([Fraction(60), Fraction(90)], lower=True, unfinished=2) == [1, Fraction(2, 3)]


def test_between_is_clamped_at_both_ends() -> None:
    assert between([Fraction(5), Fraction(20), Fraction(95)], Fraction(10), Fraction(30)) == [0, Fraction(1, 2), 1]


def test_between_the_same_ends_is_refused() -> None:
    with pytest.raises(Refusal, match="scale_ends"):
        between([Fraction(5)], Fraction(10), Fraction(10))


@pytest.mark.parametrize("maximum", [0, -3])
def test_a_maximum_of_nothing_is_refused(maximum: int) -> None:
    with pytest.raises(Refusal, match="scale_maximum"):
        of_maximum([Fraction(5)], Fraction(maximum))


def test_a_time_of_zero_is_refused_instead_of_dividing_by_it() -> None:
    with pytest.raises(Refusal, match="scale_time"):
        of_best([Fraction(0), Fraction(5)], lower=True)


@given(st.fractions(min_value=Fraction(1, 1000), max_value=10**6))
def test_roots_are_right_to_fifty_digits(square: Fraction) -> None:
    assert abs(Roots().root(square) ** 2 / square - 1) < Fraction(1, 10**50)


@given(st.integers(2, 10**9), st.fractions(Fraction(1, 50), 50, max_denominator=50))
def test_roots_with_a_rational_ratio_keep_it_exactly(radicand: int, ratio: Fraction) -> None:
    roots = Roots()
    first = roots.root(Fraction(radicand))
    assert roots.root(radicand * ratio**2) == ratio * first


def test_a_tie_across_two_standard_measures_stays_a_tie() -> None:
    """Both columns deviate by multiples of the root of 2; floats part what is equal here."""
    roots = Roots()
    first = standard([Fraction(x) for x in (0, 1, 2, 5)], roots=roots)
    second = standard([Fraction(3 * x) for x in (5, 2, 1, 0)], roots=roots)
    totals = [one + other for one, other in zip(first, second, strict=True)]
    assert totals[0] == totals[3]
    assert totals[1] == totals[2]


@given(positive, st.booleans(), st.fractions(Fraction(1, 7), 50))
def test_scaling_all_points_changes_nothing_of_best_or_standard(
    numbers: list[Fraction], lower: bool, factor: Fraction
) -> None:
    larger = [factor * number for number in numbers]
    assert of_best(larger, lower) == of_best(numbers, lower)
    assert by_rank(larger, lower) == by_rank(numbers, lower)
    assert sorted(range(len(numbers)), key=standard(larger, lower).__getitem__) == sorted(
        range(len(numbers)), key=standard(numbers, lower).__getitem__
    )


@given(positive, st.booleans())
def test_every_scale_keeps_the_order_and_the_ties(numbers: list[Fraction], lower: bool) -> None:
    ends = (max(numbers) + 1, min(numbers)) if lower else (min(numbers), max(numbers) + 1)
    scales = [
        of_maximum(numbers, max(numbers), lower),
        of_best(numbers, lower),
        between(numbers, *ends),
        by_rank(numbers, lower),
        standard(numbers, lower),
    ]
    merit = [-number if lower else number for number in numbers]
    for found in scales:
        for i, one in enumerate(merit):
            for j, other in enumerate(merit):
                assert (one < other) == (found[i] < found[j])


@pytest.mark.parametrize(
    ("scale", "ends", "expected"),
    [
        ("maximum", {"maximum": Decimal(10)}, [Fraction(3, 5), Fraction(2, 5), 0]),
        ("between", {"floor": Decimal(8), "full": Decimal(4)}, [1, Fraction(1, 2), 0]),
        ("rank", {}, [1, Fraction(1, 2), 0]),
        ("best", {"lowest": Decimal(1)}, [1, Fraction(2, 3), Fraction(4, 12)]),
    ],
)
def test_every_scale_follows_the_direction(scale: str, ends: dict[str, object], expected: list[object]) -> None:
    gap = GAP.model_copy(update={"scale": scale, **ends})
    assert list(scaled(gap, {1: Fraction(4), 2: Fraction(6), 3: Fraction(12)}, Roots()).values()) == expected


def test_on_the_standard_scale_the_lower_value_stands_higher_too() -> None:
    found = scaled(GAP.model_copy(update={"scale": "standard"}), {1: Fraction(4), 2: Fraction(6)}, Roots())
    assert found == {1: Fraction(3, 5), 2: Fraction(2, 5)}


def test_no_event_exceeds_a_hundred_unless_the_plan_says_so() -> None:
    capped = MASS.model_copy(update={"maximum": Decimal(10)})
    values = {1: Fraction(20), 2: Fraction(5)}
    assert scaled(capped, values, Roots()) == {1: 1, 2: Fraction(1, 2)}
    assert scaled(capped.model_copy(update={"over_maximum": "count"}), values, Roots())[1] == 2

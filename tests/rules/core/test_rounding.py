"""Rounding for show: half up, and different numbers stay different."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.rounding import rounded, shown
from tests.rules.reference import reference


def test_halves_are_rounded_up_as_a_teacher_expects() -> None:
    """Reference B3 (decimal arithmetic): binary floats would give 2.67 and 1.00."""
    example = reference("B3")
    values = [Fraction(value) for value in example["input"]["values"]]
    assert [rounded(value, 2) for value in values] == example["expected"]["half_up_2dp"]


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [("0", 0, "0"), ("0", 2, "0.00"), ("-1/1000", 2, "0.00"), ("7/2", 0, "4"), ("1/3", 1, "0.3"), ("-5/2", 0, "-3")],
)
def test_rounding_at_the_edges(value: str, decimals: int, text: str) -> None:
    assert rounded(Fraction(value), decimals) == text


def test_close_neighbours_get_as_many_decimals_as_they_need() -> None:
    numbers = [Fraction("81.240"), Fraction("81.241"), Fraction(70)]
    assert list(shown(numbers).values()).count("70.000") == 1
    assert {shown(numbers)[number] for number in numbers} == {"81.240", "81.241", "70.000"}


def test_a_real_tie_is_shown_as_one() -> None:
    assert shown([Fraction(2, 3) * 3, Fraction(2)]) == {Fraction(2): "2.0"}


def test_a_difference_beyond_thirty_decimals_is_shown_as_fractions() -> None:
    one, other = Fraction(1), 1 + Fraction(1, 10**40)
    assert shown([one, other]) == {one: "1", other: str(other)}


@given(st.lists(st.fractions(-100, 100), max_size=12))
def test_two_numbers_look_the_same_only_when_they_are(numbers: list[Fraction]) -> None:
    texts = shown(numbers)
    assert len(set(texts.values())) == len(set(numbers))


@given(st.fractions(-1000, 1000), st.integers(0, 6))
def test_rounding_is_never_off_by_more_than_half_a_digit(value: Fraction, decimals: int) -> None:
    assert abs(Fraction(rounded(value, decimals)) - value) <= Fraction(1, 2 * 10**decimals)

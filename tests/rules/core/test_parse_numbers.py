"""What is typed at the table is read as it was meant, or refused."""

from decimal import Decimal

import pytest

from bot.rules.core.parse_numbers import (
    read_amount,
    read_between,
    read_count,
    read_points,
)
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason


@pytest.mark.parametrize(
    ("typed", "reason"),
    [("", "typed_blank"), ("  ", "typed_blank"), ("1.5", "typed_whole"), ("-1", "typed_whole"), ("1000", "typed_many")],
)
def test_a_blank_is_no_zero_and_a_count_is_whole(typed: str, reason: str) -> None:
    with pytest.raises(Refusal) as refused:
        read_count(typed, "socks", 999)
    assert refused.value.reason == reason


def test_deductions_take_a_comma_and_a_minus() -> None:
    assert read_points("2,5", "points off") == Decimal("2.5")
    assert read_points("-10", "points off") == 10
    with pytest.raises(Refusal):
        read_points("1e5", "points off")


@pytest.mark.parametrize("typed", ["1,000", "12,500", "-1,250"])
def test_a_comma_that_may_mean_thousands_is_not_guessed_at(typed: str) -> None:
    with pytest.raises(Refusal) as points:
        read_points(typed, "points off")
    with pytest.raises(Refusal) as amount:
        read_amount(f"{typed} g", "the mass", "g")
    assert points.value.reason == amount.value.reason == TableReason.TYPED_THOUSANDS
    assert amount.value.fields["whole"] == typed.replace(",", "")


def test_a_comma_that_can_only_part_decimals_is_read_as_one() -> None:
    assert read_amount("0,125", "the mass", "kg") == Decimal("0.125")
    assert read_amount("1,2500", "the mass", "kg") == Decimal("1.25")
    assert read_points("1,25", "points off") == Decimal("1.25")
    assert read_points("1.250", "points off") == Decimal("1.25")


@pytest.mark.parametrize("typed", ["0", "61", "ten", "", "-3", "1.5", "¹"])
def test_a_number_stays_within_its_bounds(typed: str) -> None:
    with pytest.raises(Refusal, match="typed_days"):
        read_between(typed, Reason.TYPED_DAYS, 1, 60)

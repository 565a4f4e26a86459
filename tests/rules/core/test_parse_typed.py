"""What is typed, at the table or into a form, is read as it was meant, or refused."""

from datetime import date, datetime, time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.parse_typed import (
    read_amount,
    read_between,
    read_clock,
    read_count,
    read_date,
    read_list,
    read_moment,
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


YEARS_OF_A_PLAN = st.datetimes(datetime(2000, 1, 1), datetime(2199, 12, 31, 23, 59))  # noqa: DTZ001 - local by meaning


@given(YEARS_OF_A_PLAN.map(lambda at: at.replace(second=0, microsecond=0)))
def test_what_the_form_shows_reads_back_equal(at: datetime) -> None:
    assert read_date(f" {at.date().isoformat()} ") == at.date()
    assert read_clock(f"{at:%H:%M}") == at.time()
    assert read_moment(f"{at.date().isoformat()} {at:%H:%M}") == at


@pytest.mark.parametrize("typed", ["15:30", "15.30", "15h30", "3:30 pm", "3:30PM", "03.30 p.m."])
def test_a_time_is_read_in_its_usual_spellings(typed: str) -> None:
    assert read_clock(typed) == time(15, 30)


@given(st.times().map(lambda at: at.replace(second=0, microsecond=0)))
def test_a_time_in_twelve_hours_is_the_one_the_calendar_writes_so(at: time) -> None:
    assert read_clock(f"{at:%I:%M %p}") == at


@pytest.mark.parametrize("typed", ["0:30 am", "13:00 pm", "3:60 pm", "24:00", "15:60", "3 pm", "1530", "", "-1:30"])
def test_what_is_no_time_is_refused(typed: str) -> None:
    with pytest.raises(Refusal, match="typed_clock"):
        read_clock(typed)


@pytest.mark.parametrize("typed", ["11.1.2027", "1/11/2027", "2027-02-29", "tomorrow", "", "9999-12-31"])
def test_a_date_is_never_guessed(typed: str) -> None:
    with pytest.raises(Refusal, match="typed_date"):
        read_date(typed)


def test_no_moment_is_none_and_half_a_moment_is_refused() -> None:
    assert read_moment("  ") is None
    assert read_date("2027-01-11") == date(2027, 1, 11)
    with pytest.raises(Refusal, match="typed_moment"):
        read_moment("2027-01-11")


def test_names_are_separated_by_commas_semicolons_or_lines() -> None:
    assert read_list(" 7-A,7-B ;\n8  C\n,") == ("7-A", "7-B", "8 C")

"""Dates and times of day as they are typed."""

from datetime import date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.parse_dates import read_clock, read_date, read_moment
from bot.rules.core.refusal import Refusal

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

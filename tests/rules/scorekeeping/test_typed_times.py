"""Times typed at the table, of one stopwatch or of several, are read as they were meant, or refused."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.typed_times import TENTH, looks_like_minutes, official_time, read_time, read_watches
from storage.records.plan_limits import LARGEST_AMOUNT
from tests.rules.reference import reference


@pytest.mark.parametrize(
    ("typed", "seconds"),
    [
        ("1:32.4", "92.4"),
        ("1:32,4", "92.4"),
        (" 1 : 32 ", "92"),
        ("1'32\"", "92"),
        ("1m 32s", "92"),
        ("92.4", "92.4"),
        ("92,4 s", "92.4"),
        ("0:07.5", "7.5"),
        ("10:00", "600"),
        ("٣", "3"),
    ],
)
def test_times_are_read_in_minutes_and_seconds_with_point_or_comma(typed: str, seconds: str) -> None:
    assert read_time(typed) == Decimal(seconds)


@pytest.mark.parametrize(
    ("typed", "reason"),
    [
        ("", "typed_blank"),
        ("1:75", "typed_sixty"),
        ("fast", "typed_time"),
        ("1:2:3", "typed_time"),
        ("-5", "typed_time"),
        ("1.2.3", "typed_time"),
        ("nan", "typed_time"),
    ],
)
def test_times_that_cannot_be_read_are_refused(typed: str, reason: str) -> None:
    with pytest.raises(Refusal) as refused:
        read_time(typed)
    assert refused.value.reason == reason


@given(st.integers(0, int(LARGEST_AMOUNT) * 100))
def test_every_time_shown_in_hundredths_is_read_back(hundredths: int) -> None:
    minutes, rest = divmod(hundredths, 6000)
    assert read_time(f"{minutes}:{rest // 100:02}.{rest % 100:02}") == Decimal(hundredths) / 100


def test_watches_are_read_by_the_rule_of_the_track() -> None:
    table = reference("F9")
    for watches, official in zip(table["input"]["sets"], table["expected"]["official"], strict=True):
        assert official_time([Decimal(watch) for watch in watches]) == Decimal(official)


def test_several_watches_are_typed_with_a_stroke_between_them_and_one_alone_is_kept_as_typed() -> None:
    assert read_watches("1:32.41 / 1:32.6/1:33") == Decimal("92.6")
    assert read_watches("1:32.41") == Decimal("92.41")
    with pytest.raises(Refusal) as refused:
        read_watches("1/2/3/4")
    assert refused.value.reason == TableReason.TYPED_WATCHES


@given(st.dates(date(1990, 1, 1), date(2099, 12, 31)), st.sampled_from(("{0.day}/{0.month}/{0.year}", "{0:%Y/%m/%d}")))
def test_a_date_is_not_read_as_three_watches(day: date, form: str) -> None:
    with pytest.raises(Refusal) as refused:
        read_watches(form.format(day))
    assert refused.value.reason == TableReason.TYPED_WATCHES_APART


@given(st.integers(1, 999_000), st.lists(st.integers(0, 500), min_size=1, max_size=2))
def test_watches_that_differ_by_a_hands_half_second_are_of_one_run(milliseconds: int, later: list[int]) -> None:
    watches = [Decimal(milliseconds + more) / 1000 for more in (0, *later)]
    assert min(watches) <= read_watches(" / ".join(f"{watch:f}" for watch in watches)) <= max(watches) + TENTH


def test_minutes_typed_with_a_point_are_noticed() -> None:
    assert looks_like_minutes(Decimal("1.32")) == 92
    assert looks_like_minutes(Decimal("10.05")) == 605
    assert looks_like_minutes(Decimal("1.75")) is None
    assert looks_like_minutes(Decimal("92.4")) is None
    assert looks_like_minutes(Decimal("0.32")) is None

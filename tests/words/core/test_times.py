"""Dates, times and durations in words."""

from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from bot.words.core.times import (  # fmt: skip
    clock,
    day_text,
    duration,
    full,
    full_and_relative,
    length_text,
    moment_text,
    relative,
    seconds_text,
    short_day,
    time_text,
    with_moments,
)

WORDS = Path(__file__).parents[3] / "bot" / "words"

AT = datetime(2026, 10, 26, 19, 30, 0, 900_000, tzinfo=UTC)


def test_instants_are_left_to_each_phone() -> None:
    assert (full(AT), relative(AT), clock(AT)) == ("<t:1793043000:F>", "<t:1793043000:R>", "<t:1793043000:t>")
    assert full_and_relative(AT) == "<t:1793043000:F> (<t:1793043000:R>)"


def test_local_dates_and_times_are_written_out() -> None:
    assert day_text(date(2026, 10, 26)) == "Monday 26 October 2026"
    assert moment_text(datetime.fromisoformat("2027-03-01T09:05")) == "Monday 1 March 2027 at 09:05"
    assert time_text(time(9, 5, 30)) == "09:05:30"


def test_short_dates_are_equally_wide() -> None:
    assert {len(short_day(date(2026, 1, 1) + timedelta(days=n))) for n in range(400)} == {15}


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (timedelta(), "now"),
        (timedelta(seconds=1), "1 second"),
        (timedelta(minutes=90), "1 hour 30 minutes"),
        (timedelta(days=1, seconds=5), "1 day"),
        (timedelta(days=2, hours=3, minutes=59), "2 days 3 hours"),
        (-timedelta(hours=1), "1 hour"),
    ],
)
def test_durations_are_said_in_their_two_largest_units(length: timedelta, text: str) -> None:
    assert duration(length) == text


@pytest.mark.parametrize(
    ("seconds", "text"),
    [("42.30", "42.3 s"), ("60", "1 min"), ("125.3", "2 min 5.3 s"), ("0", "0 s"), ("610", "10 min 10 s")],
)
def test_measured_times_are_exact(seconds: str, text: str) -> None:
    assert seconds_text(Decimal(seconds)) == text


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (timedelta(days=1), "a day"),
        (timedelta(days=2), "two days"),
        (timedelta(days=365), "a year"),
        (timedelta(days=180), "180 days"),
        (timedelta(hours=1), "an hour"),
        (timedelta(minutes=10), "ten minutes"),
        (timedelta(minutes=90), "90 minutes"),
    ],
)
def test_a_length_of_time_in_a_sentence_is_whole(length: timedelta, text: str) -> None:
    assert length_text(length) == text


def test_where_nothing_moves_instants_are_local_and_no_time_is_left() -> None:
    said = with_moments("Due <t:1793043000:F> (<t:1793043000:R>), until <t:1793043000:t>.", ZoneInfo("Europe/Berlin"))
    assert said == "Due Monday 26 October 2026 at 20:30, until Monday 26 October 2026 at 20:30."


def test_students_read_a_date_once_and_count_in_school_days() -> None:
    theirs = [WORDS / name for name in ("squads", "hand_in", "calendar/brief.py", "plan/change_plan.py")]
    theirs += [
        WORDS / "practice" / name
        for name in (
            "booking.py",
            "practice_table.py",
            "first_round_draw.py",
            "share_and_leftover_turns.py",
            "lost_closed_or_cancelled_turns.py",
        )
    ]
    files = [found for one in theirs for found in (one.rglob("*.py") if one.is_dir() else [one])]
    assert len(files) > 8
    assert [path.name for path in files if "full_and_relative" in path.read_text("utf-8")] == []

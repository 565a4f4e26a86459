"""Days that somebody was given end in the evening of a school day (common practice, no source)."""

from datetime import UTC, datetime, time
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.evening_of_school_day import reminder_before, school_day_ends
from bot.rules.calendar.quiet_hours import is_quiet
from bot.rules.results.protests import protest_ends
from tests.rules.plan_samples import plan, utc


def test_protests_end_in_the_evening_of_a_school_day() -> None:
    announced = utc("2026-10-30T19:00")  # Friday 15:00; the clocks go back on Sunday
    of_plan = plan().model_copy(update={"protest_days": 2})
    assert protest_ends(of_plan, announced) == utc("2026-11-03T23:00")  # Tuesday 18:00
    assert protest_ends(of_plan.model_copy(update={"protest_days": 0}), announced) == announced


@pytest.mark.parametrize(
    ("quiet", "ends"), [(time(20), "18:00"), (time(17, 30), "17:30"), (time(12), "12:00"), (time(1), "18:00")]
)
def test_a_day_that_was_given_ends_in_the_evening_or_when_the_quiet_hours_begin(quiet: time, ends: str) -> None:
    of_plan = plan(quiet_from=quiet)
    for given_at in ("2026-10-29T12:00", "2026-10-29T19:59", "2026-10-30T02:30"):  # Thursday, to 22:30 at the school
        until = school_day_ends(of_plan, utc(given_at), 1)
        assert f"{until.astimezone(ZoneInfo(of_plan.zone)):%a %H:%M}" == f"Fri {ends}"


@pytest.mark.parametrize(
    ("given_at", "days", "reminded"),
    [
        ("2026-10-29T13:00", 3, "Mon 16:00"),  # Thursday morning, until Tuesday evening
        ("2026-10-30T13:00", 1, "Fri 16:00"),  # Friday morning, until Monday evening: not on Sunday
        ("2026-10-30T20:30", 1, "Mon 12:00"),  # Friday 16:30, so the daily reminder is past
    ],
)
def test_of_a_day_that_was_given_people_are_reminded_on_a_school_day(given_at: str, days: int, reminded: str) -> None:
    of_plan, at = plan(), utc(given_at)
    found = reminder_before(of_plan, at, school_day_ends(of_plan, at, days))
    assert found is not None and f"{found.astimezone(ZoneInfo(of_plan.zone)):%a %H:%M}" == reminded


ZONES = ["America/New_York", "Europe/London", "Australia/Sydney", "Australia/Lord_Howe", "Asia/Kolkata"]
TIMES = st.times().map(lambda moment: moment.replace(second=0, microsecond=0))


@given(
    zone=st.sampled_from(ZONES),
    at=st.datetimes(datetime.fromisoformat("2026-08-01"), datetime.fromisoformat("2027-06-30"), timezones=st.just(UTC)),
    days=st.integers(1, 14),
    remind_at=TIMES,
    quiet=st.tuples(TIMES, TIMES),
)
def test_days_that_were_given_end_on_a_school_day_and_are_reminded_of_in_between(
    zone: str, at: datetime, days: int, remind_at: time, quiet: tuple[time, time]
) -> None:
    of_plan = plan(zone=zone, remind_at=remind_at, quiet_from=quiet[0], quiet_until=quiet[1])
    until, local = school_day_ends(of_plan, at, days), at.astimezone(ZoneInfo(zone))
    ends = until.astimezone(ZoneInfo(zone))
    first = np.busday_offset(local.date(), 0, roll="forward")
    assert np.datetime64(ends.date()) == np.busday_offset(first, days)
    assert ends.hour >= 12 and school_day_ends(of_plan, at, days + 1) > until > at
    reminded = reminder_before(of_plan, at, until)
    if reminded is not None:
        assert at < reminded < until
        assert not is_quiet(reminded.astimezone(ZoneInfo(zone)).time(), of_plan.calendar)

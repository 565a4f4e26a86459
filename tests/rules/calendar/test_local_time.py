"""Local times and instants, against the IANA time-zone database (release 2026f, PyPI tzdata 2026.6)."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.local_time import clock_change, how_often, instant, wall_clock
from tests.rules.plan_samples import utc

CHANGES = [  # reference value F1: zone, instant of the change (UTC), offsets before and after in minutes
    ("America/New_York", "2026-11-01T06:00", -240, -300),
    ("America/New_York", "2027-03-14T07:00", -300, -240),
    ("Europe/London", "2026-10-25T01:00", 60, 0),
    ("Europe/London", "2027-03-28T01:00", 0, 60),
    ("Australia/Sydney", "2026-10-03T16:00", 600, 660),
    ("Australia/Sydney", "2027-04-03T16:00", 660, 600),
    ("Australia/Lord_Howe", "2026-10-03T15:30", 630, 660),
]
STEADY = ["Asia/Kolkata", "America/Phoenix", "Asia/Tokyo"]
LOCAL = [  # reference value F3: zone, local time, how often, first reading (UTC) where there is one
    ("America/New_York", "2026-11-01T01:30", "twice", "2026-11-01T05:30"),
    ("America/New_York", "2027-03-14T02:30", "never", None),
    ("Europe/London", "2026-10-25T01:30", "twice", "2026-10-25T00:30"),
    ("Europe/London", "2027-03-28T01:30", "never", None),
    ("Australia/Sydney", "2026-10-04T02:30", "never", None),
    ("Asia/Kolkata", "2026-11-01T01:30", "usual", "2026-10-31T20:00"),
]


ANY_TIME = st.datetimes(datetime.fromisoformat("2026-01-01"), datetime.fromisoformat("2027-12-31"))


@pytest.mark.parametrize(("zone_name", "change", "before", "after"), CHANGES)
def test_a_gap_ends_at_the_change_and_a_doubled_time_is_the_first(
    zone_name: str, change: str, before: int, after: int
) -> None:
    zone, at = ZoneInfo(zone_name), utc(change)
    shift = timedelta(minutes=after - before)
    old_clock = (at + timedelta(minutes=before)).replace(tzinfo=None)
    if shift > timedelta():
        for inside in (timedelta(), timedelta(minutes=1), shift / 2, shift - timedelta(seconds=1)):
            assert how_often(old_clock + inside, zone) == "never"
            assert instant(old_clock + inside, zone) == at
        assert instant(old_clock + shift, zone) == at
        assert how_often(old_clock + shift, zone) == "usual"
    else:
        for back in (timedelta(seconds=1), -shift / 2, -shift):
            assert how_often(old_clock - back, zone) == "twice"
            assert instant(old_clock - back, zone) == at - back
    assert instant(old_clock - timedelta(hours=2), zone) == at - timedelta(hours=2)


@pytest.mark.parametrize(("zone_name", "local", "often", "first"), LOCAL)
def test_local_times_are_told_apart_as_the_reference_says(
    zone_name: str, local: str, often: str, first: str | None
) -> None:
    zone, moment = ZoneInfo(zone_name), datetime.fromisoformat(local)
    assert how_often(moment, zone) == often
    if first is not None:
        assert instant(moment, zone) == utc(first)


@pytest.mark.parametrize("zone_name", STEADY)
@given(local=ANY_TIME)
def test_where_clocks_never_change_every_time_happens_once(zone_name: str, local: datetime) -> None:
    zone = ZoneInfo(zone_name)
    assert how_often(local, zone) == "usual"
    assert wall_clock(instant(local, zone), zone) == local


@given(
    local=ANY_TIME,
    zone_name=st.sampled_from(["America/New_York", "Australia/Lord_Howe", "Africa/Casablanca", "America/Santiago"]),
)
def test_the_clock_on_the_wall_shows_the_meant_time_unless_it_never_does(local: datetime, zone_name: str) -> None:
    zone = ZoneInfo(zone_name)
    shown = wall_clock(instant(local, zone), zone)
    if how_often(local, zone) == "never":
        assert shown > local
        assert how_often(shown - timedelta(seconds=1), zone) == "never"
    else:
        assert shown == local


def test_clocks_go_forward_in_spring_and_back_in_autumn() -> None:
    # In New York summer time began on 8 March and ended on 1 November 2026 (IANA time zone database).
    zone = ZoneInfo("America/New_York")
    hour = timedelta(hours=1)
    assert [clock_change(zone, date(2026, *day)) for day in ((3, 8), (11, 1), (6, 1))] == [hour, -hour, timedelta()]

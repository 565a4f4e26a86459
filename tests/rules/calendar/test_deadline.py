"""The window and its deadline, right across clock changes and closed days."""

from datetime import date, timedelta

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from tests.rules.plan_samples import plan, utc

TEN_DAYS_LATER = [  # reference value F2 (IANA 2026f): zone, brief, brief (UTC), deadline (UTC), hours in between
    ("America/New_York", "2026-10-26T15:30", "2026-10-26T19:30", "2026-11-05T20:30", 241.0),
    ("America/New_York", "2027-03-08T15:30", "2027-03-08T20:30", "2027-03-18T19:30", 239.0),
    ("Europe/London", "2026-10-19T15:30", "2026-10-19T14:30", "2026-10-29T15:30", 241.0),
    ("Europe/London", "2027-03-22T15:30", "2027-03-22T15:30", "2027-04-01T14:30", 239.0),
    ("Australia/Sydney", "2026-09-28T15:30", "2026-09-28T05:30", "2026-10-08T04:30", 239.0),
    ("Australia/Sydney", "2027-03-29T15:30", "2027-03-29T04:30", "2027-04-08T05:30", 241.0),
    ("Australia/Lord_Howe", "2026-09-28T15:30", "2026-09-28T05:00", "2026-10-08T04:30", 239.5),
    ("Asia/Kolkata", "2026-10-26T15:30", "2026-10-26T10:00", "2026-11-05T10:00", 240.0),
    ("America/Phoenix", "2026-10-26T15:30", "2026-10-26T22:30", "2026-11-05T22:30", 240.0),
]


@pytest.mark.parametrize(("zone", "brief", "brief_utc", "deadline_utc", "hours"), TEN_DAYS_LATER)
def test_ten_days_later_the_clock_on_the_wall_shows_the_same_time(
    zone: str, brief: str, brief_utc: str, deadline_utc: str, hours: float
) -> None:
    found = schedule(plan(zone, brief=brief))
    assert found.brief == utc(brief_utc)
    assert found.deadline == utc(deadline_utc)
    assert found.deadline - found.brief == timedelta(hours=hours)
    assert len(found.days) == 10


def test_a_window_of_school_days_skips_weekends_and_closed_days() -> None:
    found = schedule(plan(counting="school", days=5, closed=["2026-10-29"]))
    assert [day.day for day in found.days] == [27, 28, 30, 2, 3]
    assert found.deadline == utc("2026-11-03T20:30")
    reminded = [r.at.astimezone(found.zone).date() for r in found.reminders if r.kind == "daily"]
    assert reminded == list(found.days[:-1])


def test_a_brief_on_a_day_without_school_counts_from_the_next_school_day() -> None:
    found = schedule(plan(brief="2026-10-24T10:00", counting="school", days=3))  # a Saturday
    assert found.brief == utc("2026-10-24T14:00")
    assert [day.day for day in found.days] == [27, 28, 29]


def test_a_deadline_on_a_closed_day_moves_to_the_next_school_day() -> None:
    found = schedule(plan(closed=["2026-11-05", "2026-11-06"]))
    assert found.moved_from == date(2026, 11, 5)
    assert found.deadline == utc("2026-11-09T20:30")  # Monday, same time of day
    assert len(found.days) == 14


def test_a_deadline_on_a_closed_day_is_refused_where_the_plan_says_so() -> None:
    with pytest.raises(Refusal) as refused:
        schedule(plan(closed=["2026-11-05"], deadline_on_closed_day="refuse"))
    assert refused.value.reason == Reason.DEADLINE_CLOSED
    assert refused.value.fields == {"day": date(2026, 11, 5), "next_day": date(2026, 11, 6)}


def test_a_deadline_that_never_happens_is_when_the_clocks_go_forward() -> None:
    found = schedule(plan(brief="2027-03-04T02:30", days=10, deadline_on_closed_day="move", weekend=[]))
    assert found.deadline == utc("2027-03-14T07:00")  # 02:30 does not exist in New York on that day

"""The calendar: windows, deadlines and reminders, right across clock changes."""

from datetime import date, datetime

from bot.rules.calendar.calendar import schedule
from tests.rules.plan_samples import plan, utc


def test_a_brief_sent_later_than_planned_moves_the_whole_window() -> None:
    late = utc("2026-10-28T13:05:30")
    found = schedule(plan(), brief_at=late)
    assert (found.brief, found.signup_closes) == (late, late)
    assert found.deadline.astimezone(found.zone).replace(tzinfo=None) == datetime.fromisoformat("2026-11-09T09:05:30")
    assert found.moved_from == date(2026, 11, 7)


def test_signup_and_judging_close_when_the_plan_says_or_by_custom() -> None:
    usual = schedule(plan())
    assert usual.signup_closes == usual.brief
    assert usual.judging_closes.astimezone(usual.zone).replace(tzinfo=None) == datetime.fromisoformat(
        "2026-11-08T15:30"
    )
    named = schedule(plan(signup_closes="2026-10-28T12:00", judging_closes="2026-11-12T20:00"))
    assert named.signup_closes == utc("2026-10-28T16:00")
    assert named.judging_closes == utc("2026-11-13T01:00")


def test_days_are_numbered_from_the_day_after_the_brief() -> None:
    found = schedule(plan())
    assert found.day_number(found.brief) == 0
    assert found.day_number(utc("2026-10-27T03:59")) == 0  # 23:59 on the day of the brief
    assert found.day_number(utc("2026-10-27T04:00")) == 1
    assert found.day_number(found.deadline) == 10

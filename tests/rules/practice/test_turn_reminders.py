"""Reminders of practice turns: three hours before, and never at night."""

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given, settings

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.quiet_hours import is_quiet
from bot.rules.practice.practice_table import slots
from bot.rules.practice.turn_reminders import remind_at
from storage.records.plan import Calendar, Plan, Practice
from tests.actions.conftest import small_plan
from tests.rules.plan_strategies import plans


def test_a_reminder_comes_three_hours_before_or_the_evening_before() -> None:
    of_plan = small_plan(
        practice=Practice(times=(time(12, 10),)), calendar=Calendar(brief=datetime.fromisoformat("2027-01-11T15:30"))
    )
    when = schedule(of_plan)
    zone = ZoneInfo(of_plan.zone)
    noon = datetime(2027, 1, 12, 12, 10, tzinfo=zone)
    assert remind_at(of_plan, when, noon) == noon - timedelta(hours=3)
    early = datetime(2027, 1, 12, 8, 0, tzinfo=zone)
    assert remind_at(of_plan, when, early) == datetime(2027, 1, 11, 19, 0, tzinfo=zone)
    late = datetime(2027, 1, 12, 23, 30, tzinfo=zone)
    assert remind_at(of_plan, when, late) == datetime(2027, 1, 12, 19, 0, tzinfo=zone)


@given(plans())
@settings(max_examples=60, deadline=None)
def test_no_reminder_falls_into_the_quiet_hours(of_plan: Plan) -> None:
    when = schedule(of_plan)
    for begin in slots(of_plan, when)[:12]:
        local = remind_at(of_plan, when, begin).astimezone(when.zone)
        assert not is_quiet(local.time().replace(tzinfo=None), of_plan.calendar)

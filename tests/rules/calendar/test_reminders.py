"""How long remains, in which days reminders ring, and when a late reminder waits for the morning."""

from datetime import UTC, datetime, timedelta

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.reminders import ON_TIME, held_until, is_last_hour, rings, school_days_left
from bot.rules.calendar.school_days import SchoolDays
from tests.actions.conftest import small_plan

PLAN = small_plan()
NOON = datetime(2027, 1, 12, 17, 0, tzinfo=UTC)  # 12:00 in New York
PLANNED = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
NIGHT = datetime(2027, 1, 13, 4, 0, tzinfo=UTC)  # 23:00


def test_what_is_on_time_is_never_held_back() -> None:
    assert held_until(PLAN, NIGHT, NIGHT + ON_TIME) is None
    assert held_until(PLAN, NOON, NOON) is None


def test_what_is_late_by_day_goes_at_once_and_by_night_in_the_morning() -> None:
    assert held_until(PLAN, NOON - timedelta(hours=5), NOON) is None
    assert held_until(PLAN, NOON, NIGHT) == datetime(2027, 1, 13, 12, 0, tzinfo=UTC)


def test_where_there_are_no_quiet_hours_nothing_waits() -> None:
    calendar = PLAN.calendar.model_copy(update={"quiet_from": PLAN.calendar.quiet_until})
    assert held_until(PLAN.model_copy(update={"calendar": calendar}), NOON, NIGHT) is None


def test_school_days_are_counted_without_the_days_on_which_school_is_closed() -> None:
    dates = schedule(PLAN)
    school = SchoolDays(PLAN.calendar)
    days = [day for day in dates.days if school.closed_because(day) is None]
    assert school_days_left(PLAN, dates, dates.deadline) == 0
    assert school_days_left(PLAN, dates, dates.brief) == len(days)


def test_the_last_hour_is_the_last_one() -> None:
    assert is_last_hour(PLANNED, PLANNED.replace(hour=19))
    assert not is_last_hour(PLANNED, PLANNED.replace(hour=19, minute=29))


def test_reminders_ring_in_the_last_days_and_hours_only() -> None:
    assert [rings(days, last_hours=False) for days in (9, 4, 3, 0)] == [False, False, True, True]
    assert rings(0, last_hours=True)

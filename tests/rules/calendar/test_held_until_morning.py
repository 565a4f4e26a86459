"""When a late reminder waits for the morning."""

from datetime import UTC, datetime, timedelta

from bot.rules.calendar.held_until_morning import ON_TIME, held_until, is_worth_saying
from tests.actions.conftest import small_plan

PLAN = small_plan()
NOON = datetime(2027, 1, 12, 17, 0, tzinfo=UTC)  # 12:00 in New York
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


def test_what_helps_nobody_any_more_in_the_morning_is_not_said() -> None:
    assert is_worth_saying(NOON, None) and is_worth_saying(NOON, NOON)
    assert not is_worth_saying(NOON, NOON - timedelta(seconds=1))

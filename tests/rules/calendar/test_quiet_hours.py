"""Quiet hours: when they begin and stop, also over midnight; what comes late waits for the morning."""

from datetime import UTC, datetime, time, timedelta

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.quiet_hours import ON_TIME, held_until, is_quiet, is_worth_saying
from tests.actions.conftest import small_plan
from tests.rules.plan_samples import plan, utc

PLAN = small_plan()
NOON = datetime(2027, 1, 12, 17, 0, tzinfo=UTC)  # 12:00 in New York
NIGHT = datetime(2027, 1, 13, 4, 0, tzinfo=UTC)  # 23:00


@pytest.mark.parametrize(
    ("quiet_from", "quiet_until", "quiet", "awake"),
    [
        ("20:00", "07:00", ["20:00", "23:59", "00:00", "06:59"], ["19:59", "07:00", "12:00"]),
        ("01:00", "06:00", ["01:00", "05:59"], ["00:59", "06:00", "23:00"]),
        ("08:00", "08:00", [], ["07:59", "08:00", "08:01"]),
    ],
)
def test_quiet_hours_begin_with_their_start_and_stop_at_their_end(
    quiet_from: str, quiet_until: str, quiet: list[str], awake: list[str]
) -> None:
    calendar = plan(quiet_from=quiet_from, quiet_until=quiet_until).calendar
    assert all(is_quiet(time.fromisoformat(moment), calendar) for moment in quiet)
    assert not any(is_quiet(time.fromisoformat(moment), calendar) for moment in awake)


def test_equal_ends_mean_no_quiet_hours() -> None:
    found = schedule(plan(remind_at="03:00", quiet_from="20:00", quiet_until="20:00"))
    assert found.reminders[0].at == utc("2026-10-27T07:00")
    assert not found.reminders[0].moved


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

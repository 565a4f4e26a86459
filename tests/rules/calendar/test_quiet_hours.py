"""Quiet hours: when they begin and stop, also over midnight."""

from datetime import UTC, datetime, time

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.quiet_hours import is_quiet
from tests.rules.plan_samples import plan


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


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

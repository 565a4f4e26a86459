"""When what was due counts as late."""

from datetime import UTC, datetime, timedelta

from bot.rules.core.lateness import UNTIL_MORNING, is_late, lateness
from storage.records.scheduled_jobs import ScheduledJob

START = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
DUE = ScheduledJob(id=1, tryout_id=1, kind="say", key="x", at=START)


def test_a_little_delay_is_on_time_and_more_is_late() -> None:
    assert lateness(DUE, START - timedelta(hours=1)) == timedelta(0)
    assert not is_late(DUE, START + timedelta(minutes=2))
    assert is_late(DUE, START + timedelta(minutes=2, seconds=1))


def test_what_was_put_off_until_morning_is_late_although_it_comes_at_its_new_time() -> None:
    assert is_late(DUE.model_copy(update={"key": f"x{UNTIL_MORNING}"}), START)

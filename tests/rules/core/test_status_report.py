"""When the running bot is well."""

from datetime import UTC, datetime, timedelta

from bot.rules.core.status_report import is_well
from storage.records.status_file import Heartbeat

NOW = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
WELL = Heartbeat(
    at=NOW, started_at=NOW - timedelta(days=2), version="1.2", pid=7, free_bytes=5 * 10**9, online_since=NOW
)


def test_who_is_off_line_for_long_or_silent_is_not_well() -> None:
    assert is_well(WELL, NOW)
    assert not is_well(WELL, NOW + timedelta(minutes=2))
    assert not is_well(WELL.model_copy(update={"stopped": True}), NOW)
    assert not is_well(WELL.model_copy(update={"online_since": None}), NOW)
    assert is_well(WELL.model_copy(update={"away_since": NOW - timedelta(minutes=9)}), NOW)
    assert not is_well(WELL.model_copy(update={"away_since": NOW - timedelta(minutes=11)}), NOW)

"""What `tenbell status` prints."""

from datetime import UTC, datetime, timedelta

from bot.words.core.status_report import report
from storage.records.status_file import Heartbeat

NOW = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
AWAY = Heartbeat(
    at=NOW,
    started_at=NOW - timedelta(days=2),
    version="1.2",
    pid=7,
    free_bytes=10**8,
    online_since=NOW,
    away_since=NOW - timedelta(minutes=11),
)


def test_it_says_for_how_long_the_bot_is_off_line_and_that_little_room_is_left() -> None:
    shown = report(AWAY, NOW, "x.db")
    assert "off line for 11 minutes" in shown and "0.1 GB (little!)" in shown

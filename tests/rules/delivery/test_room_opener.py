"""When a private room that is gone is opened anew."""

from datetime import UTC, datetime, timedelta

from bot.rules.delivery.room_opener import is_opened_anew

NOW = datetime(2027, 1, 12, 12, 0, tzinfo=UTC)


def test_a_lost_room_is_opened_anew_but_not_twice_within_an_hour() -> None:
    assert is_opened_anew(None, NOW) and is_opened_anew(NOW - timedelta(hours=1), NOW)
    assert not is_opened_anew(NOW - timedelta(minutes=59), NOW)

"""How soon a live message is changed again."""

from datetime import UTC, datetime, timedelta

from bot.rules.delivery.sending_limits import rests_until


def test_a_live_message_rests_two_seconds_after_a_change() -> None:
    at = datetime(2027, 1, 12, 12, 0, tzinfo=UTC)
    assert rests_until(None) is None and rests_until(at) == at + timedelta(seconds=2)

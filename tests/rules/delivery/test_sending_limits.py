"""How soon, and how late, a message is changed again.

The worked example of an id is the platform's own (reference page, "Snowflakes"; from memory).
"""

from datetime import UTC, datetime, timedelta

from bot.rules.delivery.sending_limits import freely_edited, made_at, rests_until


def test_a_live_message_rests_two_seconds_after_a_change() -> None:
    at = datetime(2027, 1, 12, 12, 0, tzinfo=UTC)
    assert rests_until(None) is None and rests_until(at) == at + timedelta(seconds=2)


def test_the_worked_example_of_the_platform() -> None:
    assert made_at(175928847299117063) == datetime(2016, 4, 30, 11, 18, 25, 796000, UTC)


def test_a_message_is_edited_freely_for_an_hour() -> None:
    made = made_at(175928847299117063)
    assert freely_edited(175928847299117063, made + timedelta(minutes=59))
    assert not freely_edited(175928847299117063, made + timedelta(hours=1))

"""When an id was made; the worked example is the platform's own (reference page, "Snowflakes"; from memory)."""

from datetime import UTC, datetime, timedelta

from bot.rules.core.message_age import freely_edited, made_at


def test_the_worked_example_of_the_platform() -> None:
    assert made_at(175928847299117063) == datetime(2016, 4, 30, 11, 18, 25, 796000, UTC)


def test_a_message_is_edited_freely_for_an_hour() -> None:
    made = made_at(175928847299117063)
    assert freely_edited(175928847299117063, made + timedelta(minutes=59))
    assert not freely_edited(175928847299117063, made + timedelta(hours=1))

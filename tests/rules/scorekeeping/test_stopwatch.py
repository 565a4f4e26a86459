"""From which press a stopwatch runs (common practice, no source)."""

from datetime import UTC, datetime, timedelta

from bot.rules.scorekeeping.stopwatch import first_press

AT = datetime(2027, 1, 4, 12, tzinfo=UTC)


def test_pressed_twice_it_began_at_the_first() -> None:
    assert first_press(None, AT) == AT
    assert first_press(AT, AT + timedelta(seconds=2)) == AT

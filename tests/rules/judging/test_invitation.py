"""How often the coach is told that a judge declines."""

from datetime import UTC, datetime, timedelta

from bot.rules.judging.invitation import is_told

NOW = datetime(2027, 1, 12, 12, tzinfo=UTC)


def test_the_coach_is_told_of_a_judge_who_declines_once_a_day() -> None:
    assert is_told(None, NOW)
    assert not is_told(NOW, NOW + timedelta(hours=11))
    assert is_told(NOW, NOW + timedelta(hours=13))

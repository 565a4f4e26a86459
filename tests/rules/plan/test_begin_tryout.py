"""What of a form is read where its date is wrong (common practice, no source)."""

from datetime import UTC, datetime

from bot.rules.plan.begin_tryout import read_with

NOW = datetime(2027, 1, 4, 8, 30, tzinfo=UTC)


def test_where_the_date_is_wrong_the_rest_is_read_with_noon_of_today() -> None:
    typed = datetime(2027, 1, 11, 15, 30)  # noqa: DTZ001 - local by meaning
    assert read_with(typed, NOW) == typed
    assert read_with(None, NOW) == datetime(2027, 1, 4, 12, 0)  # noqa: DTZ001

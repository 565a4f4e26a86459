"""What looks like a slip of the thumb at the table is noticed."""

from decimal import Decimal

from bot.rules.scorekeeping.doubtful_values import slip
from tests.rules.books import attempt, timed


def what(seconds: str) -> str | None:
    measure = timed(limit=Decimal(180))
    found = slip(measure, attempt(1, f"race.{measure.key}", seconds=Decimal(seconds)))
    return found.what if found else None


def test_a_time_over_the_limit_or_of_minutes_with_a_point_is_doubted_and_no_other() -> None:
    assert what("180.01") == "over the limit"
    assert what("1.32") == "minutes as seconds"
    assert what("92.4") is None

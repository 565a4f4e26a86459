"""What looks like a slip of the thumb at the table is noticed."""

from decimal import Decimal

from bot.rules.scorekeeping.doubtful_values import looks_like_minutes


def test_minutes_typed_with_a_point_are_noticed() -> None:
    assert looks_like_minutes(Decimal("1.32")) == 92
    assert looks_like_minutes(Decimal("1.75")) is None
    assert looks_like_minutes(Decimal("92.4")) is None
    assert looks_like_minutes(Decimal("0.32")) is None

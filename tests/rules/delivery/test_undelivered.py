"""When the coach is told that something could not be delivered."""

from bot.rules.delivery.undelivered import is_told


def test_a_trouble_is_told_once_and_the_offices_own_to_nobody() -> None:
    assert is_told("squad/3", known=False) and not is_told("squad/3", known=True)
    assert not is_told("office", known=False)

"""Which squad is led to after saving (common practice, no source)."""

from bot.rules.scorekeeping.next_squad import following


def test_the_next_number_with_attempts_left_comes_and_round_again() -> None:
    assert following([1, 2, 3, 4], {1, 2, 4}, 2) == 4
    assert following([1, 2, 3, 4], {1, 2}, 3) == 1
    assert following([1, 2, 3, 4], {3}, 3) is None

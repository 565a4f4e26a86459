"""Which attempt is next, and of whom a share is (common practice, no source)."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scorekeeping.attempts import check_next, members_asked


def test_attempts_follow_one_another_as_many_as_the_plan_gives() -> None:
    check_next(2, 1, 2, "The Dustpans")
    with pytest.raises(Refusal, match="attempt_gone"):
        check_next(3, 1, 3, "The Dustpans")
    with pytest.raises(Refusal, match="attempts_used"):
        check_next(3, 2, 2, "The Dustpans")
    check_next(3, 2, None, "The Dustpans")


def test_a_share_is_of_those_who_are_here_unless_parts_are_handed_in() -> None:
    assert members_asked(4, 3, hand_in=False) == 3
    assert members_asked(4, 3, hand_in=True) == 4
    assert members_asked(4, None, hand_in=False) == 4

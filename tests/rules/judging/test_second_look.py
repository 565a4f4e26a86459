"""Until when judges are asked for a second look, and when a coach who judges sees where judges differ."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.second_look import check_may_ask, check_own_sheets_in


def test_judges_are_asked_while_they_can_change_their_sheets() -> None:
    check_may_ask("window")
    with pytest.raises(Refusal):
        check_may_ask("settled")


def test_a_coach_who_judges_hands_in_before_seeing_where_judges_differ() -> None:
    check_own_sheets_in(0, "no score sheet")
    with pytest.raises(Refusal, match="own_sheets_first"):
        check_own_sheets_in(2, "2 score sheets")

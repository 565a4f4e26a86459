"""Until when a judge can step back from a squad, and of which squads (common practice, no source)."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.conflicts_of_interest import check_may_step_back, may_not_mark, to_step_back_from
from tests.words.invented import squad

SQUADS = [squad(number, f"Squad {number}") for number in (1, 2, 3)]


def test_a_judge_steps_back_once_and_not_after_the_sheet_is_in() -> None:
    check_may_step_back(SQUADS[0], tied=False, handed_in=False)
    for reason, tied, handed_in in (
        ("tie_known", True, False),
        ("tie_known", True, True),
        ("tie_too_late", False, True),
    ):
        with pytest.raises(Refusal, match=reason):
            check_may_step_back(SQUADS[0], tied, handed_in)


def test_offered_are_squads_that_are_still_to_be_marked() -> None:
    assert [one.id for one in to_step_back_from(SQUADS, {1}, {3})] == [2]


def test_nobody_marks_a_squad_of_a_tie_or_their_own() -> None:
    assert may_not_mark([(1, 7)], [(2, 8), (1, 7)]) == {(1, 7), (2, 8)}

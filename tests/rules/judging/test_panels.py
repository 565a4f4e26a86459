"""Who sits where when a coach sets a panel by hand."""

from decimal import Decimal

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.panels import check_may_sit, judges_per_squad, seats_by_hand, sizes, thinly_linked
from tests.words.judging.longest_sheets import JUDGES, MINE, SQUADS


def test_from_two_judges_a_squad_up_to_all_whose_marks_count() -> None:
    shown_only = JUDGES[0].model_copy(update={"weight": Decimal(0)})
    assert list(sizes(JUDGES[:4])) == [2, 3, 4] and list(sizes([shown_only, *JUDGES[1:4]])) == [2, 3]
    assert list(sizes(JUDGES[:1])) == []


def test_who_was_not_shown_or_has_begun_keeps_the_seat() -> None:
    there = {1: True, 2: False, 3: True}
    assert seats_by_hand({4}, begun=[2], there=there, shown={2, 3, 4}) == {1: True, 2: False, 4: True}
    with pytest.raises(Refusal, match="panel_nobody"):
        seats_by_hand((), (), there, shown=there)


def test_nobody_is_seated_where_they_know_someone() -> None:
    judges = {one.id: one for one in JUDGES}
    check_may_sit([JUDGES[0].id], judges, SQUADS[0], {(SQUADS[1].id, JUDGES[0].id)})
    with pytest.raises(Refusal, match="judge_tied"):
        check_may_sit([JUDGES[0].id], judges, SQUADS[0], {(SQUADS[0].id, JUDGES[0].id)})


def test_the_coachs_choice_goes_before_the_plan() -> None:
    rubric = MINE[0].rubric.model_copy(update={"judges_per_squad": 3})
    assert [judges_per_squad(rubric, chosen) for chosen in (None, 2, 0)] == [3, 2, None]


def test_a_judge_with_two_shared_squads_is_thinly_linked() -> None:
    assert thinly_linked([(1, 1), (2, 1), (3, 1), (1, 2), (2, 2), (3, 2), (1, 3), (2, 3), (4, 3)]) == (3,)
    assert thinly_linked([(squad, judge) for squad in (1, 2, 3) for judge in (1, 2)]) == ()

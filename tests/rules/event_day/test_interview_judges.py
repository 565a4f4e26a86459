"""Whom squads meet in their interviews: their panels, or everybody, and nobody of their own."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.interview_judges import asked_about, whom_squads_meet
from tests.rules.books import count, event, rubric

BUNTING = event("bunting", rubric(), count())


def test_a_squad_meets_the_judges_of_its_panels_or_all_of_them_but_nobody_who_is_tied_to_it() -> None:
    seats = {(1, 11), (2, 12)}
    assert whom_squads_meet(BUNTING, [1, 2], [11, 12], [seats], ()) == {1: (11,), 2: (12,)}
    assert whom_squads_meet(BUNTING, [1, 2], [11, 12], [None], {(1, 12)}) == {1: (11,), 2: (11, 12)}
    assert whom_squads_meet(BUNTING, [1], [11, 12], [seats, None], ()) == {1: (11, 12)}


def test_judges_have_to_be_shared_out_first() -> None:
    with pytest.raises(Refusal, match="day_panels_first"):
        whom_squads_meet(BUNTING, [1], [11], [set()], ())
    assert whom_squads_meet(BUNTING, [1], [], [set()], ()) == {1: ()}


def test_squads_are_asked_about_what_judges_mark_and_not_about_a_surprise() -> None:
    assert [one.kind for one in asked_about(BUNTING)] == ["rubric"]
    assert asked_about(BUNTING.model_copy(update={"surprise": True})) == []

"""To whom a proposed squad is offered, and who would be in it too."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads import proposal_answers as rules
from storage.records.people import Student
from storage.records.wishes_and_proposals import ProposedSeat


def student(squad_id: int | None = None) -> Student:
    return Student(id=1, tryout_id=1, platform_id=5, name="Ada", section="7-A", squad_id=squad_id, joined_at=None)


def seat(student_id: int, new: int | None, answer: str | None = None) -> ProposedSeat:
    return ProposedSeat.model_validate({"student_id": student_id, "tryout_id": 1, "new_squad": new, "answer": answer})


def test_a_place_is_offered_until_somebody_declines_or_has_a_squad() -> None:
    assert rules.is_offered(student(), seat(1, 2)) and rules.is_offered(student(), seat(1, 2, "yes"))
    assert not rules.is_offered(student(), seat(1, 2, "no"))
    assert not rules.is_offered(student(3), seat(1, 2))
    assert not rules.is_offered(student(), seat(1, None)) and not rules.is_offered(student(), None)


def test_nobody_answers_once_nobody_can_be_placed_any_more() -> None:
    assert rules.check_may_answer("judging", student(), seat(1, 2)) == (student(), seat(1, 2))
    with pytest.raises(Refusal, match="nothing_proposed"):
        rules.check_may_answer("announced", student(), seat(1, 2))


def test_who_has_declined_would_not_be_in_the_new_squad() -> None:
    others = [seat(1, 2), seat(2, 2), seat(3, 2, "no"), seat(4, 3), seat(5, 2, "yes")]
    assert [one.student_id for one in rules.founds_too(others[0], others)] == [2, 5]

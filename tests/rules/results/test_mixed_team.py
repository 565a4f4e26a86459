"""Places offered to single students: who owes an answer, who may give one, and when the room is told."""

from datetime import UTC, datetime, timedelta
from typing import Literal

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.results.mixed_team import can_be_asked, check_may_answer, owing, room_is_told
from storage.records.results import MemberOffer
from tests.rules.squads.test_students_admin import ANN, BOB, MOLES, ZOE

NOW = datetime(2027, 1, 21, 9, 0, tzinfo=UTC)


def offer(student: int, state: Literal["alternate", "open", "accepted", "declined"] = "open") -> MemberOffer:
    return MemberOffer(student_id=student, tryout_id=1, state=state, made_at=NOW, answer_by=NOW)


def test_only_open_offers_of_that_last_moment_are_owed_while_the_result_stands() -> None:
    later = offer(3).model_copy(update={"answer_by": NOW + timedelta(days=1)})
    made = [offer(1), offer(2, "accepted"), later]
    assert owing(made, NOW, "announced") == [1]
    assert owing(made, NOW, "settled") == []


def test_a_student_answers_an_open_offer() -> None:
    assert check_may_answer(offer(1), "announced") == offer(1)
    for known, state in ((None, "announced"), (offer(1, "declined"), "announced"), (offer(1), "settled")):
        with pytest.raises(Refusal, match="team_nothing"):
            check_may_answer(known, state)  # type: ignore[arg-type]


def test_the_room_reads_that_a_place_is_gone_and_nothing_of_an_alternate() -> None:
    assert room_is_told(offer(1), "lapsed")
    assert room_is_told(offer(1, "accepted"), "back")
    assert not room_is_told(offer(1), "accepted")
    assert not room_is_told(offer(1, "alternate"), "back")


def test_who_is_asked_or_has_said_yes_is_not_offered_a_place_again() -> None:
    rows = [(ZOE, MOLES), (ANN, MOLES), (BOB, MOLES)]
    made = [offer(ZOE.id), offer(ANN.id, "accepted"), offer(BOB.id, "declined")]
    assert can_be_asked(rows, made) == [(BOB, MOLES)]

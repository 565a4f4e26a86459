"""What may be changed and accepted in a proposal, who is seated by it, and what new squads are called."""

from datetime import UTC, datetime

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads import proposals as rules
from storage.records.wishes_and_proposals import Proposal, ProposedSeat
from tests.rules.squads.test_proposal_answers import seat
from tests.rules.squads.test_students_admin import ANN
from tests.words.invented import squad

NOW = datetime(2027, 1, 4, 12, tzinfo=UTC)


def test_a_proposal_is_accepted_once_and_seats_all_only_after_that() -> None:
    draft = Proposal(tryout_id=1, made_at=NOW, accepted_at=None)
    accepted = draft.model_copy(update={"accepted_at": NOW})
    assert rules.check_draft(draft) == draft and rules.check_accepted(accepted) == accepted
    for check, made in (
        (rules.check_draft, accepted),
        (rules.check_draft, None),
        (rules.check_accepted, draft),
        (rules.check_accepted, None),
    ):
        with pytest.raises(Refusal, match="proposal_gone"):
            check(made)


def test_who_has_said_nothing_is_seated_at_last_and_who_has_said_yes_founds() -> None:
    seats = [seat(1, 2), seat(2, 2, "yes"), seat(3, 2, "no"), seat(4, None)]
    assert rules.not_answered(seats) == [seats[0]] and rules.willing(seats) == [seats[1]]
    assert not rules.gives_place(seats[3])


def test_a_student_can_be_given_a_squad_of_the_own_section_with_a_free_seat() -> None:
    here, full, there = (
        squad(number, name, at) for number, name, at in ((1, "A", "7-A"), (2, "B", "7-A"), (3, "C", "7-B"))
    )
    assert rules.could_go_to(ANN, [(here, [ANN]), (full, [ANN, ANN]), (there, [])], 2) == [(here, [ANN])]


def test_a_new_squad_takes_the_first_name_that_is_like_none_in_use() -> None:
    taken = ["NEW squad 1", "New squad 3"]
    assert rules.first_free_name("New squad {}".format, taken) == "New squad 2"
    assert rules.first_free_name("New squad {}".format, []) == "New squad 1"


def test_a_new_squad_waits_until_every_one_of_its_students_has_answered() -> None:
    seats = [ProposedSeat(student_id=1, tryout_id=1, new_squad=2, answer="yes")]
    assert rules.all_have_answered(seats)
    seats.append(ProposedSeat(student_id=2, tryout_id=1, new_squad=2))
    assert not rules.all_have_answered(seats)
    assert rules.next_new_squad(seats) == 3 and rules.next_new_squad([]) == 1

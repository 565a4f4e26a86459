"""Who may be in which squad, and what the forms of sign-up propose."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads import sign_up as rules
from tests.actions.conftest import small_plan
from tests.rules.squads.test_students_admin import ANN
from tests.words.invented import squad

PLAN = small_plan()


def test_a_squad_takes_students_of_its_section_until_it_is_full() -> None:
    most = PLAN.squads.largest
    rules.check_can_join(PLAN, ANN, squad(1, "Moles", "7-A"), [ANN] * (most - 1))
    for section, members, why in (("7-A", most, "squad_full"), ("7-B", 0, "other_section")):
        with pytest.raises(Refusal, match=why):
            rules.check_can_join(PLAN, ANN, squad(1, "Moles", section), [ANN] * members)


def test_forms_propose_what_is_known_of_a_student_and_else_the_name_of_the_account() -> None:
    assert (rules.proposed_name(ANN, "annie_05"), rules.proposed_section(ANN)) == (ANN.name, ANN.section)
    assert (rules.proposed_name(None, "annie_05"), rules.proposed_section(None)) == ("annie_05", "")


def test_who_types_a_code_is_entered_as_known_or_else_in_the_section_of_the_squad() -> None:
    moles = squad(1, "Moles", "7-B")
    assert (rules.section_by_code(ANN, moles), rules.section_by_code(None, moles)) == (ANN.section, "7-B")
    assert rules.entered_name("Annie", ANN, "annie_05") == "Annie"
    assert (rules.entered_name("", ANN, "annie_05"), rules.entered_name("", None, "annie_05")) == (ANN.name, "annie_05")


def test_squads_are_offered_with_their_free_seats_and_full_ones_left_out() -> None:
    moles, newts = squad(1, "Moles"), squad(2, "Newts")
    assert rules.with_free_seats([(newts, 3), (moles, 5)], 5) == [(newts, 2)]
    assert rules.with_free_seats([(newts, 3), (moles, 4)], 5) == [(moles, 1), (newts, 2)]

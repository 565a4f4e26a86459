"""In which order the other record of a student is offered, and when two may become one."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads import merge_student_records
from tests.rules.squads.test_students_admin import ANN, BEN, BOB, MOLES, ZOE


def test_for_another_record_the_own_section_comes_first_and_then_the_name_in_either_case() -> None:
    rows = [(BEN, None), (BOB, MOLES), (ANN, None)]
    assert merge_student_records.in_order(ZOE, rows) == [(ANN, None), (BOB, MOLES), (BEN, None)]


@pytest.mark.parametrize(
    ("one", "other", "clash", "reason"),
    [
        ({"id": 1}, {"id": 1}, False, "same_record"),
        ({"platform_id": 5}, {"platform_id": 6}, False, "two_accounts"),
        ({"squad_id": 1}, {"squad_id": 2}, False, "two_squads"),
        ({"squad_id": 1}, {"squad_id": 1}, True, "two_parts"),
    ],
)
def test_two_records_are_not_joined_where_it_would_have_to_be_guessed_which_half_counts(
    one: dict[str, int], other: dict[str, int], clash: bool, reason: str
) -> None:
    pair = (ZOE.model_copy(update=one), BOB.model_copy(update=other))
    with pytest.raises(Refusal, match=reason):
        merge_student_records.check_same_student(*pair, clash)
    merge_student_records.check_same_student(ZOE, BOB, clash=False)

"""In which order students stand where somebody picks from them, and when one can still come late."""

from datetime import UTC, datetime

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import latecomers, merge_student_records, students_admin, wishes
from storage.records.people import Squad, Student
from storage.records.tryout import State


def student(number: int, name: str, section: str = "7-A") -> Student:
    return Student(id=number, tryout_id=1, platform_id=None, name=name, section=section, squad_id=None, joined_at=None)


MOLES = Squad(
    id=1,
    tryout_id=1,
    number=1,
    name="Moles",
    section="7-A",
    captain_id=None,
    join_code="ABC",
    created_at=datetime(2027, 1, 4, 12, tzinfo=UTC),
)
ZOE, ANN, BEN, BOB = student(1, "Zoe"), student(2, "ann"), student(3, "Ben", "7-B"), student(4, "Bob")


def test_students_without_a_squad_come_first() -> None:
    assert students_admin.in_order([(MOLES, [ANN, BOB]), (None, [ZOE])]) == [(ZOE, None), (ANN, MOLES), (BOB, MOLES)]


def test_for_another_record_the_own_section_comes_first_and_then_the_name_in_either_case() -> None:
    rows = [(BEN, None), (BOB, MOLES), (ANN, None)]
    assert merge_student_records.in_order(ZOE, rows) == [(ANN, None), (BOB, MOLES), (BEN, None)]


def test_wishes_are_about_everybody_else_of_the_section_by_name() -> None:
    assert wishes.others_in_order(ANN, [ZOE, ANN, BEN, BOB]) == [BOB, ZOE]


@pytest.mark.parametrize(
    ("state", "signup_open", "reason"),
    [
        ("signup", True, Reason.LATE_TOO_EARLY),
        ("drafting", False, Reason.SIGNUP_NOT_OPEN),
        ("settled", False, Reason.LATE_OVER),
    ],
)
def test_nobody_is_late_before_sign_up_has_closed_or_after_judging(
    state: State, signup_open: bool, reason: Reason
) -> None:
    with pytest.raises(Refusal) as refused:
        latecomers.check_late(state, signup_open)
    assert refused.value.reason == reason


def test_one_can_come_late_while_judging_goes_on() -> None:
    latecomers.check_late("judging", signup_open=False)

"""Picking a name from the class list: late comers, taken names, and what the coach sees of it."""

from datetime import UTC, datetime

import pytest

from bot.rules.class_list import class_list_admin as admin
from bot.rules.class_list import pick_or_type_name as rules
from bot.rules.core.refusal import Refusal
from storage.records.class_list import ClassListEntry
from storage.records.people import Student


def student(number: int, account: int | None = None) -> Student:
    began = datetime(2027, 1, 5, tzinfo=UTC)
    return Student(
        id=number, tryout_id=1, platform_id=account, name=f"Ada {number}", section="7-A", squad_id=None, joined_at=began
    )


def entry(number: int, section: str, who: int | None, **answers: bool) -> ClassListEntry:
    name = f"Ada {number}"
    return ClassListEntry(
        id=number, tryout_id=1, name=name, folded=name.casefold(), section=section, student_id=who, answers=answers
    )


def test_who_comes_after_sign_up_waits_for_the_coach_until_judging_is_closed() -> None:
    assert not rules.comes_late("signup", signup_open=True)
    assert rules.comes_late("window", signup_open=False) and rules.comes_late("judging", signup_open=False)
    for state, reason in (("drafting", "signup_not_open"), ("settled", "late_over")):
        with pytest.raises(Refusal) as refused:
            rules.comes_late(state, signup_open=False)  # type: ignore[arg-type]
        assert refused.value.reason == reason


def test_the_coach_is_told_of_three_taken_names_that_one_person_picks() -> None:
    assert [rules.coach_is_told(number) for number in (1, 3, 4)] == [True, True, False]
    assert rules.kind_of_claim(student(1)) == "has-account"
    assert rules.kind_of_claim(student(1, 77)) == rules.kind_of_claim(None) == "picked-twice"


def test_the_coach_sees_who_is_not_on_the_list_who_has_not_come_and_who_has_no_yes() -> None:
    entries = [entry(3, "7-B", None), entry(2, "7-A", None), entry(1, "7-A", 1, form=True)]
    assert admin.strangers([student(1), student(4)], entries) == [student(4)]
    assert [one.id for one in admin.not_here(entries)] == [2, 3]
    assert [one.id for one in admin.not_here(entries, "7-B")] == [3]
    found = admin.missing_yes(("form", "photo"), entries, [(None, [student(1), student(4)])])
    assert found == {"form": {"": 0}, "photo": {"": 1}}

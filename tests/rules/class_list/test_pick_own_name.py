"""Picking a name from the class list: in which order names stand, late comers, and taken names."""

from datetime import UTC, datetime

import pytest

from bot.rules.class_list import pick_own_name as rules
from bot.rules.core.refusal import Refusal
from bot.rules.squads.names import name_keys
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


def named(number: int, name: str, section: str) -> ClassListEntry:
    folded = name_keys(name).folded
    return ClassListEntry(id=number, tryout_id=1, name=name, folded=folded, section=section, answers={})


def test_names_stand_by_section_and_from_a_to_z_whatever_the_order_of_the_file() -> None:
    rows = ("Zora K", "8 Elm"), ("bea L", "7 Ash"), ("Ada B", "7 Ash"), ("Cleo M", "7 Ash"), ("Ada B", "8 Elm")
    found = rules.in_order(named(number, *row) for number, row in enumerate(rows))
    assert [(one.section, one.name) for one in found] == [
        ("7 Ash", "Ada B"), ("7 Ash", "bea L"), ("7 Ash", "Cleo M"), ("8 Elm", "Ada B"), ("8 Elm", "Zora K")
    ]  # fmt: skip

"""Who could still come into a squad, and until when it can be taken out."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads.squads_admin import check_may_take_out, could_come
from storage.records.people import Student
from tests.words.invented import squad


def student(number: int, section: str, squad_id: int | None = None) -> Student:
    return Student(
        id=number, tryout_id=1, platform_id=None, name="Ada", section=section, squad_id=squad_id, joined_at=None
    )


def test_students_of_the_section_without_a_squad_could_come_while_there_is_a_free_seat() -> None:
    moles, there = squad(1, "Moles", "7-A"), [student(1, "7-A", 2), student(2, "7-B"), student(3, "7-A")]
    assert [one.id for one in could_come(moles, 1, there)] == [3]
    assert could_come(moles, 0, there) == []


def test_a_squad_stands_once_the_result_is_announced() -> None:
    check_may_take_out(result_stands=False)
    with pytest.raises(Refusal):
        check_may_take_out(result_stands=True)

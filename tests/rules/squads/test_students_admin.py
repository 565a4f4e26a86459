"""In which order students stand where the coach picks from all of them."""

from datetime import UTC, datetime

from bot.rules.squads import students_admin
from storage.records.people import Squad, Student


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

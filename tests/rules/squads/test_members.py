"""In which order members of squads stand, and how many more a squad may have."""

from datetime import UTC, datetime, timedelta

from bot.rules.squads.members import by_squad, free_seats
from storage.records.people import Student
from tests.words.invented import squad

BEGAN = datetime(2027, 1, 4, 12, tzinfo=UTC)
MOLES, NEWTS = squad(1, "Moles"), squad(2, "Newts")


def student(number: int, squad_id: int | None, hours: int = 0) -> Student:
    joined = None if squad_id is None else BEGAN + timedelta(hours=hours)
    return Student(
        id=number,
        tryout_id=1,
        platform_id=None,
        name=f"Ada {number}",
        section="7-A",
        squad_id=squad_id,
        joined_at=joined,
    )


def test_members_stand_as_they_joined_and_students_without_a_squad_come_last() -> None:
    first, late, alone, other = student(3, 1, 1), student(1, 1, 5), student(2, None), student(4, 2)
    assert by_squad([NEWTS, MOLES], [late, alone, first, other]) == [
        (MOLES, [first, late]),
        (NEWTS, [other]),
        (None, [alone]),
    ]


def test_a_squad_beyond_its_size_has_no_free_seat() -> None:
    there = [student(1, 2), student(2, 2), student(3, 2)]
    assert free_seats(there, 5) == 2 and free_seats(there, 2) == 0

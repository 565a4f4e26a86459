"""Who is not on the class list: in which order they stand, who they may be, and when the coach hears of them."""

from datetime import UTC, datetime, timedelta

from bot.rules.class_list.not_on_class_list import coach_is_told, in_order, waits_since, who_it_may_be
from storage.records.class_list import ClassListEntry, WaitingStudent

NOW = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


def waits(number: int, section: str = "7-A") -> WaitingStudent:
    return WaitingStudent(
        id=number, tryout_id=1, platform_id=number, name=f"Zed {number}", section=section, asked_at=NOW
    )


def listed(number: int, name: str, section: str, student: int | None = None) -> ClassListEntry:
    return ClassListEntry(
        id=number, tryout_id=1, name=name, folded=name.lower(), section=section, answers={}, student_id=student
    )


def test_who_asked_first_stands_first() -> None:
    assert [one.id for one in in_order([waits(3), waits(1), waits(2)])] == [1, 2, 3]


def test_they_may_be_a_name_of_their_section_that_nobody_has_picked() -> None:
    names = [listed(1, "Bo C", "7-A"), listed(2, "Ada B", "7-A"), listed(3, "Cy D", "7-B"), listed(4, "Di E", "7-A", 9)]
    assert [one.name for one in who_it_may_be(waits(1), names)] == ["Ada B", "Bo C"]


def test_the_coach_hears_of_each_of_them_once_and_they_wait_from_the_first_asking() -> None:
    later = NOW + timedelta(hours=1)
    assert coach_is_told(None) and waits_since(None, later) == later
    assert not coach_is_told(waits(1)) and waits_since(waits(1), later) == NOW

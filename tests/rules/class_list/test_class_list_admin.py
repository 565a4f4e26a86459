"""What the coach sees of a class list: who is not on it, who has come by section, who has no yes."""

from bot.rules.class_list import class_list_admin as admin
from tests.rules.class_list.test_pick_own_name import entry, student


def test_the_coach_sees_who_is_not_on_the_list_who_has_not_come_and_who_has_no_yes() -> None:
    entries = [entry(3, "7-B", None), entry(2, "7-A", None), entry(1, "7-A", 1, form=True)]
    assert admin.strangers([student(1), student(4)], entries) == [student(4)]
    assert [one.id for one in admin.not_here(entries)] == [2, 3]
    assert [one.id for one in admin.not_here(entries, "7-B")] == [3]
    found = admin.missing_yes(("form", "photo"), entries, [(None, [student(1), student(4)])])
    assert found == {"form": {"": 0}, "photo": {"": 1}}


def test_sections_are_counted_from_a_to_z() -> None:
    entries = [entry(3, "7-B", None), entry(2, "7-A", None), entry(1, "7-A", 1)]
    assert admin.come_by_section(entries) == [("7-A", 1, 2), ("7-B", 0, 1)]


def test_a_yes_counts_once_its_student_has_signed_up() -> None:
    entries = [entry(2, "7-A", None, form=True), entry(1, "7-A", 1, form=True), entry(3, "7-B", 5)]
    assert admin.yes_of_signed_up(entries, "form") == (1, 2)

"""The words of the hand-in for the coach fit the platform at their worst."""

from bot.words.hand_in import parts_admin
from storage.records.message import MESSAGE_LENGTH
from tests.words.hand_in.test_member_parts import EVENT, MEMBERS, SQUAD, part


def test_the_form_for_a_late_part_asks_why_and_what_becomes_of_the_photo() -> None:
    late = parts_admin.coach_part_form(EVENT, MEMBERS[0], part(1).model_copy(update={"by_coach": True}), late=True)
    assert [field.key for field in late.fields] == ["why", "photo", "keep", "late"]


def test_the_coachs_page_fits_with_the_longest_words() -> None:
    late = part(1).model_copy(update={"by_coach": True, "late_reason": "*" * 200})
    said = parts_admin.student(EVENT, MEMBERS[0], SQUAD, late, late=True)
    assert len(said.text) <= MESSAGE_LENGTH

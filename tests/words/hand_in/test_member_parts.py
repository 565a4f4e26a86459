"""The words of the hand-in fit the platform at their worst."""

from datetime import UTC, datetime

from bot.rules.calendar.calendar import schedule
from bot.rules.hand_in.member_parts import LONGEST
from bot.words.core.action_keys import ActionKey
from bot.words.hand_in import member_parts as words
from storage.records.hand_in import Part
from storage.records.message import MESSAGE_LENGTH
from storage.records.people import Student
from tests.actions.conftest import small_plan
from tests.words.invented import squad

PLAN = small_plan()
EVENT = PLAN.events[1].model_copy(update={"name": "*" * 100})
AT = datetime(2027, 1, 12, tzinfo=UTC)
NAME = "*" * 40
SQUAD = squad(1, NAME, captain_id=1)
MEMBERS = [Student(id=one, tryout_id=1, platform_id=one, name=NAME, section="7-A") for one in range(1, 26)]
READING = words.Reading(25, ActionKey.HAND_IN_PARTS)


def part(student: int, photo: bool = True, reason: str = "*" * LONGEST) -> Part:
    return Part(
        student_id=student, squad_id=1, event="art", reason=reason, photo_sha256="0" if photo else None, handed_in_at=AT
    )


def test_the_card_of_twenty_five_members_with_the_longest_names_fits() -> None:
    for there in (range(0), range(1, 13), range(1, 26)):
        card = words.parts_in_room(EVENT, schedule(PLAN).deadline, MEMBERS, {one: part(one) for one in there}, True)
        assert f"In ({len(there)} of 25)" in card.text and "more" in card.text
        assert len(card.text) <= MESSAGE_LENGTH


def test_nobody_is_asked_for_a_part_once_every_part_is_in() -> None:
    for there, label in ((range(1, 25), "Add my part"), (range(1, 26), "Change my part")):
        card = words.parts_in_room(EVENT, schedule(PLAN).deadline, MEMBERS, {one: part(one) for one in there}, True)
        assert isinstance(first := card.rows[0], tuple) and [one.label for one in first] == [label, "See our parts"]


def test_every_part_stands_on_exactly_one_page_and_every_page_fits() -> None:
    shown = [words.Shown(NAME, part(one.id)) for one in MEMBERS]
    photos = {one.id: b"\x89PNG" for one in MEMBERS}
    pages = len(words.paged(shown))
    said = [words.parts_page(EVENT, SQUAD, shown, photos, READING, page) for page in range(pages)]
    assert sum(len(page.files) for page in said) == 25
    assert all(len(page.text) <= MESSAGE_LENGTH for page in said)
    assert [page.files[0].name for page in said] == ["part-1.png"] * pages


def test_short_parts_share_a_page_with_ten_photos_at_most() -> None:
    shown = [words.Shown("Ada", part(one.id, reason="Ten letters")) for one in MEMBERS]
    assert [len(page) for page in words.paged(shown)] == [10, 10, 5]
    plain = [words.Shown("Ada", part(one.id, photo=False, reason="Ten letters")) for one in MEMBERS]
    assert [len(page) for page in words.paged(plain)] == [25]


def test_forms_fit_with_the_longest_names() -> None:
    assert len(words.part_form(EVENT, SQUAD, part(1)).fields) == 3
    assert len(words.part_form(EVENT, SQUAD, None).fields) == 2

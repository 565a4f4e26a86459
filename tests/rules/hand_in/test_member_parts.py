"""When the room of a squad says that parts can be added, whether a photo stays, and in which order parts are read."""

from datetime import UTC, datetime

from bot.rules.hand_in.member_parts import is_shown_open, photo_stays, read_order
from storage.records.hand_in import Part

LATER = datetime(2027, 1, 28, 21, tzinfo=UTC)


def test_a_room_says_so_in_the_window_and_with_more_time_until_judging_is_closed() -> None:
    assert is_shown_open("window", None) and is_shown_open("window", LATER) and is_shown_open("judging", LATER)
    assert not is_shown_open("judging", None) and not is_shown_open("settled", LATER)


def test_a_photo_stays_with_a_part_of_the_same_squad_only() -> None:
    part = Part(student_id=1, squad_id=1, event="bunting", reason="Red, as the sock.", handed_in_at=LATER)
    assert photo_stays(part) and not photo_stays(None)


def test_parts_are_read_in_the_order_of_the_members_and_those_of_who_has_left_last() -> None:
    assert read_order([3, 1, 2], {1, 3}, {9}) == [3, 1, 9]

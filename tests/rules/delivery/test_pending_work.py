"""Which address is served first, and when a private room has something to be done."""

from bot.rules.delivery.pending_work import ROOM_ALONE, room_work, turn_of_live_message, turn_of_message
from storage.records.rooms import Room

ROOM = Room(
    tryout_id=1,
    squad_id=1,
    number=1,
    name="Moles",
    room_id=5,
    room_name="squad 1 - Moles",
    room_outdated=False,
    room_closed=False,
    withdrawn=False,
    seats_open=0,
)


def test_messages_come_before_live_messages_and_these_before_rooms_the_oldest_first() -> None:
    turns = [turn_of_message(3), turn_of_message(9), turn_of_live_message(1), turn_of_live_message(2), ROOM_ALONE]
    assert sorted(turns) == turns


def test_a_room_is_opened_filled_renamed_and_put_away() -> None:
    def work(**changes: object) -> bool:
        return room_work(ROOM.model_copy(update=changes), can_be_opened=True)

    assert not work()
    assert work(room_id=None) and not work(room_id=None, withdrawn=True)
    assert not room_work(ROOM.model_copy(update={"room_id": None}), can_be_opened=False)
    assert work(seats_open=1) and work(room_outdated=True)
    assert work(withdrawn=True) and not work(withdrawn=True, room_closed=True)

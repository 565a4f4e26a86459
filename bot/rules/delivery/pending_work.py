"""What waits to be delivered: which address is served first, and whether a private room has something to be done."""

from storage.records.rooms import Room

Turn = tuple[int, int]
"""The lowest is served first."""
ROOM_ALONE: Turn = (2, 0)
"""The turn of an address at which only the room itself is to be opened, filled or put away."""


def turn_of_message(outbox_id: int) -> Turn:
    """Messages come before everything else, in the order in which they were written."""
    return 0, outbox_id


def turn_of_live_message(live_id: int) -> Turn:
    """Live messages come after them."""
    return 1, live_id


def room_work(room: Room, can_be_opened: bool) -> bool:
    """Whether a squad's room is to be opened, filled, emptied, renamed or put away."""
    if room.room_id is None:
        return not room.withdrawn and can_be_opened
    return bool(room.seats_open) or (not room.room_closed if room.withdrawn else room.room_outdated)

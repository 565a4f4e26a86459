"""The room of a squad that was taken out: when it is put away, and that it is locked then."""

from storage.records.rooms import Room

LOCK_ROOM = True
"""The room is locked beside being archived, where the platform lets us: nobody can open it again by writing in it."""


def may_put_room_away(room: Room) -> bool:
    """Whether a room is put away now: its squad is taken out, everybody has been shown out, and it was not done yet."""
    return room.withdrawn and not room.room_closed and not room.seats_open

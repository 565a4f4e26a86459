"""Private rooms of squads and judges: beneath which channel, when a lost one is opened anew, when one is put away."""

from datetime import datetime, timedelta
from typing import Final

from storage.records.rooms import Room
from storage.records.tryout import RoomKind

BENEATH: RoomKind = "squads"
"""The channel beneath which private rooms are opened, of squads and of judges who take no direct messages."""
ARCHIVED_AFTER_MINUTES: Final = 7 * 24 * 60
"""After so long without a message the platform archives a room; it takes an hour, or 1, 3 or 7 days."""
REOPEN_AGAIN = timedelta(hours=1)
"""A room that vanishes again within this time is not opened a third time."""
LOCK_ROOM = True
"""A room put away is locked as well as archived, where the platform lets us: nobody opens it again by writing in it."""


def is_opened_anew(reopened: datetime | None, now: datetime) -> bool:
    """Whether a room that is gone is opened anew; `reopened` is when that was done last."""
    return reopened is None or now - reopened >= REOPEN_AGAIN


def may_put_room_away(room: Room) -> bool:
    """Whether a room is put away now: its squad is taken out, everybody has been shown out, and it was not done yet."""
    return room.withdrawn and not room.room_closed and not room.seats_open

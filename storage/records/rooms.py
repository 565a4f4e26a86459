"""Squads' private rooms: what they are called, and who should be in them."""

from storage.records.base import Record


class Room(Record):
    """The private room of a squad, open or still to be opened."""

    tryout_id: int
    squad_id: int
    number: int
    name: str
    """The squad's name."""
    room_id: int | None
    room_name: str
    """What the room is called now."""
    room_outdated: bool
    """Whether that may not be its right name any more."""
    room_closed: bool
    withdrawn: bool
    seats_open: int
    """People who are still to be added or taken out."""


class Seat(Record):
    """Whether someone should be, and is, in a squad's private room."""

    squad_id: int
    platform_id: int
    wanted: bool
    present: bool
    failed: str = ""
    """Why it could not be done; it is not tried again until it is wished again."""

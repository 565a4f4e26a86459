"""Whether there is anything to deliver at all, asked in one go: mostly there is not."""

from typing import NamedTuple

from storage.tables import live_messages, outbox, rooms
from storage.tables.sql_session import Snapshot


class KindsOfWork(NamedTuple):
    """Which kinds of work there are."""

    messages: bool
    live: bool
    rooms: bool
    incidents: bool


async def kinds_of_work(db: Snapshot) -> KindsOfWork:
    """Ask for all kinds at once."""
    found = await db.rows(
        f"SELECT EXISTS (SELECT 1 FROM outbox_message WHERE {outbox.OPEN}), "
        f"EXISTS (SELECT 1 FROM live_message INDEXED BY live_message_open WHERE {live_messages.OPEN}), "
        f"EXISTS (SELECT 1 FROM squad WHERE {rooms.OPEN}) OR EXISTS (SELECT 1 FROM room_seat WHERE {rooms.SEAT_OPEN}), "
        "EXISTS (SELECT 1 FROM delivery_incident)"
    )
    return KindsOfWork(*map(bool, found[0]))

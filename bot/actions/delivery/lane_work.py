"""What is to be done at one address at this moment, all of it seen at once."""

from dataclasses import dataclass

from bot.actions.delivery.destination import Destination, destination_of
from bot.actions.delivery.pending_work import Lane
from storage.records.delivery import LiveMessage, OutboxMessage, Room, Seat
from storage.tables import live_messages, outbox, rooms, squad_room_members
from storage.tables.sql_session import Snapshot


@dataclass(frozen=True)
class LaneWork:
    """Where an address leads, and what waits there."""

    destination: Destination
    outgoing: OutboxMessage | None
    """The outbox message whose turn it is."""
    live: list[LiveMessage]
    """The live messages that are to be brought up to date."""
    room: Room | None = None
    """The private room, if it is a squad's."""
    seats: tuple[Seat, ...] = ()
    """Who is still to be added to that room or taken out."""


async def work_at(db: Snapshot, lane: Lane) -> LaneWork:
    """Look at one address."""
    destination = await destination_of(db, *lane)
    outgoing, live = await outbox.head(db, *lane), await live_messages.open_at(db, *lane)
    if not destination.squad_id:
        return LaneWork(destination, outgoing, live)
    room = await rooms.room(db, destination.squad_id)
    seats = await squad_room_members.seats(db, destination.squad_id) if room is not None and room.seats_open else []
    return LaneWork(destination, outgoing, live, room, tuple(seats))

"""What is to be done at one address at this moment, all of it seen at once."""

from dataclasses import dataclass
from datetime import datetime

from bot.actions.core import live_messages as composers
from bot.actions.delivery.destination import Destination, destination_of
from bot.actions.delivery.pending_work import Lane
from bot.rules.delivery.sending_limits import rests_until
from storage.records.live_messages import LiveMessage
from storage.records.message import Message
from storage.records.outbox import OutboxMessage
from storage.records.rooms import Room, Seat
from storage.tables import live_messages, outbox, rooms, squad_room_members, tryouts
from storage.tables.sql_session import Snapshot


@dataclass(frozen=True)
class Composed:
    """A live message as it was seen, and what it is to show."""

    live: LiveMessage | None
    """None when it is gone, or must not be changed yet."""
    message: Message | Exception | None = None
    """None for nothing; or why it cannot be composed."""


@dataclass(frozen=True)
class LaneWork:
    """Where an address leads, and what waits there."""

    destination: Destination
    outgoing: OutboxMessage | None
    """The outbox message whose turn it is."""
    live: list[LiveMessage]
    """The live messages that are to be brought up to date."""
    composed: Composed | None = None
    """The live message, if it is the only one and nothing is to be sent before it."""
    room: Room | None = None
    """The private room, if it is a squad's."""
    seats: tuple[Seat, ...] = ()
    """Who is still to be added to that room or taken out."""


async def work_at(db: Snapshot, lane: Lane, now: datetime) -> LaneWork:
    """Look at one address."""
    destination = await destination_of(db, *lane)
    outgoing, live = await outbox.head(db, *lane), await live_messages.open_at(db, *lane)
    alone = outgoing is None and len(live) == 1 and destination.room_id is not None
    composed = await compose(db, live[0].id, now) if alone else None
    if not destination.squad_id:
        return LaneWork(destination, outgoing, live, composed)
    room = await rooms.room(db, destination.squad_id)
    seats = await squad_room_members.seats(db, destination.squad_id) if room is not None and room.seats_open else []
    return LaneWork(destination, outgoing, live, composed, room, tuple(seats))


async def composed_at(db: Snapshot, lane: Lane, live_id: int, now: datetime) -> tuple[Destination, Composed]:
    """Where an address leads, and one of its live messages."""
    return await destination_of(db, *lane), await compose(db, live_id, now)


async def compose(db: Snapshot, live_id: int, now: datetime) -> Composed:
    """Look at a live message, and compose what it is to show now."""
    live = await live_messages.get(db, live_id)
    if live is None or ((rest := rests_until(live.edited_at)) is not None and rest > now):
        return Composed(None)
    if not live.stale:
        return Composed(live)
    try:
        return Composed(live, await composers.compose(db, await tryouts.get(db, live.tryout_id), live.key))
    except Exception as error:  # noqa: BLE001 - the other live messages go on
        return Composed(live, error)

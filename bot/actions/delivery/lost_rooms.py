"""A private room that is gone, because somebody deleted it, is opened anew; one that vanishes again is not."""

from datetime import datetime

from bot.actions.delivery.destination import Destination
from bot.actions.delivery.outbox_outcome import tell_once
from bot.rules.delivery.private_rooms import is_opened_anew
from bot.words.delivery import undelivered as words
from storage.tables import delivery_incidents, live_messages, rooms
from storage.tables.sql_session import Transaction


async def room_lost(db: Transaction, destination: Destination, now: datetime) -> bool:
    """A private room is gone: open a new one, unless that happened shortly before; whether it will be opened."""
    since = await delivery_incidents.since(db, destination.tryout_id, destination.address, "reopened")
    if not is_opened_anew(since, now):
        return False
    if since is not None:
        await delivery_incidents.end(db, destination.tryout_id, destination.address, "reopened")
    if destination.squad_id:
        await rooms.lost(db, destination.squad_id)
    else:
        await rooms.set_judge_room(db, destination.judge_id, None)
    await live_messages.forsaken(db, destination.tryout_id, destination.address)
    await tell_once(db, destination, "reopened", words.trouble("reopened", destination.label), now)
    return True

"""The room of a squad that was taken out is put away: archived and locked."""

import logging
from dataclasses import dataclass

import discord

from bot.delivery.error_classification import classify
from bot.delivery.room_opener import RoomOpener, request_timeout
from bot.rules.delivery.private_rooms import LOCK_ROOM, may_put_room_away
from storage.records.rooms import Room
from storage.store import Store
from storage.tables import rooms

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class RoomCloser:
    """Puts rooms of squads away."""

    client: discord.Client
    store: Store
    opener: RoomOpener

    async def close(self, room: Room) -> None:
        """Put the room of a squad that has withdrawn away, if its time has come."""
        if room.room_id is not None and may_put_room_away(room):
            await self._put_away(room, room.room_id)

    async def _put_away(self, room: Room, room_id: int) -> None:
        try:
            thread = await self.opener.thread(room_id)
            if thread is not None:
                await self._archive(thread)
        except (discord.NotFound, discord.Forbidden) as error:
            log.warning("the room of squad %d stays as it is: %s", room.squad_id, classify(error, self.client).why)
        await self.store.transact(lambda db: rooms.closed(db, room.squad_id))

    async def _archive(self, thread: discord.Thread) -> None:
        try:
            async with request_timeout():
                await thread.edit(archived=True, locked=LOCK_ROOM)
        except discord.Forbidden:
            # Locking needs a right that we ask for nowhere; whoever is in the room could open it again, nobody is.
            async with request_timeout():
                await thread.edit(archived=True)

"""The room of a squad that has another name now is renamed on the platform."""

from dataclasses import dataclass

from bot.delivery.room_opener import RoomOpener
from bot.words.delivery.room_names import squad_room_name
from storage.records.rooms import Room
from storage.store import Store
from storage.tables import rooms


@dataclass(frozen=True)
class RoomRenamer:
    """Renames rooms of squads."""

    store: Store
    opener: RoomOpener

    async def rename(self, room: Room) -> None:
        """Call the room of a squad that takes part by the squad's present name, if it is not."""
        if room.room_id is None or room.withdrawn or not room.room_outdated:
            return
        room_id, name = room.room_id, squad_room_name(room.number, room.name)
        thread = await self.opener.thread(room_id) if name != room.room_name else None
        if thread is not None:
            await self.opener.awake(room_id, lambda: thread.edit(name=name))
        await self.store.transact(lambda db: rooms.renamed(db, room.squad_id, name, room.name))

"""Opens what an address needs: direct messages, or a private room with its people in it."""

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from datetime import datetime
from typing import TypeVar

import discord

from bot.actions.delivery.destination import Destination
from bot.delivery.error_classification import ARCHIVED, LOCKED
from bot.rules.delivery.private_rooms import ARCHIVED_AFTER_MINUTES
from bot.rules.delivery.sending_limits import CLOCK_SLACK, REQUEST_S
from storage.store import Store
from storage.tables import judges, rooms
from storage.tables.sql_session import Transaction

T = TypeVar("T")


@asynccontextmanager
async def request_timeout() -> AsyncIterator[None]:
    """Give up on a call of the platform after a while.

    Raises:
        TimeoutError: it took too long.
    """
    async with asyncio.timeout(REQUEST_S):
        yield


class RoomOpener:
    """Knows the platform's rooms: opens, finds, wakes them."""

    def __init__(self, client: discord.Client, store: Store) -> None:
        self._client = client
        self._store = store
        self._one_at_a_time = asyncio.Lock()
        self._just_opened: dict[int, discord.Thread] = {}
        """Until they are first asked for: the gateway may tell of them later than that."""

    @property
    def me(self) -> int:
        """Our own account."""
        assert self._client.user is not None
        return self._client.user.id

    def room(self, room_id: int) -> discord.PartialMessageable:
        """A room to post in, without asking the platform about it."""
        return self._client.get_partial_messageable(room_id)

    async def open_direct(self, destination: Destination) -> int:
        """Open a judge's direct messages; opening many at once would look like spam, so they take turns."""
        async with self._one_at_a_time, request_timeout():
            channel = await self._client.create_dm(discord.Object(destination.person))
        await self._store.transact(lambda db: judges.set_direct(db, destination.judge_id, channel.id))
        return channel.id

    async def open_private(self, destination: Destination, now: datetime) -> int:
        """Open the private room of a squad, or the one that stands in for a judge's direct messages.

        After a crash between opening and noting it, the room that was opened is found again.
        """
        lane = destination.tryout_id, destination.address
        claim = await self._store.look(lambda db: rooms.claimed(db, *lane))
        thread, name = None, destination.room_name
        if claim is not None:
            thread, name = await self._find_private(destination, claim), claim.name
        if thread is None:
            name = destination.room_name
            await self._store.transact(lambda db: rooms.claim(db, *lane, destination.room_name, now))
            parent = await self.channel(destination.parent_id)
            async with request_timeout():
                thread = await parent.create_thread(
                    name=destination.room_name, invitable=False, auto_archive_duration=ARCHIVED_AFTER_MINUTES
                )
            self._just_opened[thread.id] = thread
        if destination.person:
            async with request_timeout():
                await thread.add_user(discord.Object(destination.person))
        room_id = thread.id

        async def note(db: Transaction) -> None:
            if destination.squad_id:
                await rooms.opened(db, destination.squad_id, room_id, name)
            else:
                await rooms.set_judge_room(db, destination.judge_id, room_id)
            await rooms.unclaim(db, *lane)

        await self._store.transact(note)
        return room_id

    async def _find_private(self, destination: Destination, claim: rooms.RoomClaim) -> discord.Thread | None:
        known = await self._store.look(rooms.known)
        parent = await self.channel(destination.parent_id)
        async with request_timeout():
            active = await parent.guild.active_threads()
        for thread in sorted(active, key=lambda thread: thread.id):
            ours = thread.owner_id == self.me and thread.id not in known and thread.parent_id == destination.parent_id
            if ours and thread.name == claim.name and thread.id >= discord.utils.time_snowflake(claim.at - CLOCK_SLACK):
                return thread
        return None

    async def channel(self, channel_id: int) -> discord.TextChannel:
        """A text channel of the class server.

        Raises:
            TypeError: it is something else.
        """
        channel = self._client.get_channel(channel_id)
        if channel is None:
            async with request_timeout():
                channel = await self._client.fetch_channel(channel_id)
        if not isinstance(channel, discord.TextChannel):
            raise TypeError(f"channel {channel_id} is a {type(channel).__name__}")
        return channel

    async def thread(self, room_id: int) -> discord.Thread | None:
        """A private room; None when the room is something else."""
        just_opened = self._just_opened.pop(room_id, None)
        channel = self._client.get_channel(room_id) or just_opened
        if channel is None:
            async with request_timeout():
                channel = await self._client.fetch_channel(room_id)
        return channel if isinstance(channel, discord.Thread) else None

    async def awake(self, room_id: int, action: Callable[[], Awaitable[T]]) -> T:
        """Do something in a room; if the room turns out to be archived or locked, open it and do it once more."""
        try:
            async with request_timeout():
                return await action()
        except discord.HTTPException as error:
            if error.code not in (ARCHIVED, LOCKED):
                raise
            await self._open_again(room_id, locked=error.code == LOCKED)
        async with request_timeout():
            return await action()

    async def _open_again(self, room_id: int, locked: bool) -> None:
        thread = await self.thread(room_id)
        if thread is None:
            return
        async with request_timeout():
            if locked:
                await thread.edit(archived=False, locked=False)
            else:
                await thread.edit(archived=False)

"""Keeping a squad's private room as it should be: who is in it, what it is called, and put away at the end."""

import logging
from dataclasses import dataclass
from functools import partial

import discord

from bot.actions.delivery import outbox_outcome
from bot.actions.delivery.destination import Destination
from bot.actions.delivery.lane_work import LaneWork
from bot.clock import Clock
from bot.delivery.error_classification import classify
from bot.delivery.room_opener import RoomOpener, request_timeout
from bot.words.delivery import undelivered as words
from bot.words.delivery.room_names import squad_room_name
from storage.records.delivery import Room, Seat
from storage.store import Store
from storage.tables import rooms, squad_room_members
from storage.tables.sql_session import Transaction

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class ThreadMembership:
    """Shows people into private rooms and out of them."""

    client: discord.Client
    store: Store
    clock: Clock
    opener: RoomOpener

    async def fill(self, work: LaneWork) -> bool:
        """Add those who belong in a squad's room and take out those who do not any more; whether there were any.

        Raises:
            Exception: what `classify` calls `later` or `fault`; it is to be tried again.
        """
        room, destination = work.room, work.destination
        if room is None or room.room_id is None or not work.seats:
            return False
        try:
            thread = await self.opener.thread(room.room_id)
        except discord.NotFound:
            if not room.withdrawn:
                raise
            thread = None
        if thread is None:
            await self.store.transact(lambda db: rooms.closed(db, destination.squad_id))
            return True
        left_out = []
        for seat in work.seats:
            why = await self._move(thread, seat)
            if why:
                left_out.append((seat, why))
            else:
                await self.store.transact(partial(squad_room_members.seated, seat=seat))
        if left_out:
            await self._report(destination, left_out)
        return True

    async def _move(self, thread: discord.Thread, seat: Seat) -> str:
        """Add someone or take someone out; returns why it cannot be done, if so."""
        person = discord.Object(seat.platform_id)

        async def move() -> None:
            await (thread.add_user(person) if seat.wanted else thread.remove_user(person))

        try:
            await self.opener.awake(thread.id, move)
        except discord.HTTPException as error:
            trouble = classify(error, self.client)
            if trouble.meaning == "later" or error.code in (10003, 50013):
                # The room's own trouble, not this person's.
                raise
            if not seat.wanted and error.status == 404:
                return ""
            return trouble.why
        return ""

    async def _report(self, destination: Destination, left_out: list[tuple[Seat, str]]) -> None:
        people = [seat.platform_id for seat, _ in left_out if seat.wanted]
        now = self.clock.now()

        async def note(db: Transaction) -> None:
            for seat, why in left_out:
                await squad_room_members.seat_failed(db, seat, why)
            if people:
                cause = "seats " + " ".join(map(str, people))
                await outbox_outcome.tell_once(
                    db, destination, cause, words.not_in_room(destination.label, people), now
                )

        await self.store.transact(note)

    async def tidy(self, room: Room) -> None:
        """Call a squad's room by the squad's present name, or put it away when the squad has withdrawn."""
        if room.room_id is None:
            return
        if room.withdrawn:
            if not room.room_closed and not room.seats_open:
                await self._put_away(room, room.room_id)
        elif room.room_outdated:
            await self._rename(room, room.room_id)

    async def _rename(self, room: Room, room_id: int) -> None:
        name = squad_room_name(room.number, room.name)
        thread = await self.opener.thread(room_id) if name != room.room_name else None
        if thread is not None:
            await self.opener.awake(room_id, lambda: thread.edit(name=name))
        await self.store.transact(lambda db: rooms.renamed(db, room.squad_id, name, room.name))

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
                await thread.edit(archived=True, locked=True)
        except discord.Forbidden:
            # Locking needs a right that we ask for nowhere; whoever is in the room could open it again, nobody is.
            async with request_timeout():
                await thread.edit(archived=True)

"""Who is in a squad's private room: people are added and taken out; the coach is told whom it did not work for."""

from dataclasses import dataclass
from functools import partial

import discord

from bot.actions.delivery import outbox_outcome
from bot.actions.delivery.destination import Destination
from bot.actions.delivery.lane_work import LaneWork
from bot.clock import Clock
from bot.delivery.error_classification import classify, is_of_room
from bot.delivery.room_opener import RoomOpener
from bot.words.delivery import undelivered as words
from storage.records.rooms import Seat
from storage.store import Store
from storage.tables import rooms, squad_room_members
from storage.tables.sql_session import Transaction


@dataclass(frozen=True)
class SquadRoomMembers:
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
            if trouble.meaning == "later" or is_of_room(error):
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

"""A database with a try-out in it, a class server on loopback, and a clock that is moved by hand."""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import AsyncExitStack, asynccontextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import discord

from bot.actions.judging.judges_admin import enrol
from bot.delivery.delivery_loop import DeliveryLoop
from deploy.rehearsal.server.platform_faults import Fault
from deploy.rehearsal.world.api_errors import Json
from storage.records.live_messages import LiveMessage
from storage.records.message import Message
from storage.records.outbox import OutboxMessage
from storage.records.rooms import Room
from storage.records.tryout import ROOM_KINDS
from storage.store import Store
from storage.tables import helpers, judges, live_messages, outbox, rooms, squads, students, tryouts
from tests.actions.conftest import small_plan
from tests.databases import new_database
from tests.delivery.server_view import NEWS, OFFICE, RESET, SIGNUP, SQUADS, START, Wire, logged_in


@dataclass
class HandClock:
    """Stands still until it is moved; rings as the others do."""

    at: datetime = START
    wish: datetime | None = None
    callbacks: list[Callable[[], None]] = field(default_factory=list)
    moved: Callable[[datetime], None] = lambda at: None

    def now(self) -> datetime:
        return self.at

    def wake_at(self, at: datetime | None) -> None:
        self.wish = at

    def on_wake(self, callback: Callable[[], None]) -> None:
        self.callbacks.append(callback)

    def move(self, address: datetime | timedelta) -> None:
        """Move on, and ring if it is time."""
        self.at = self.at + address if isinstance(address, timedelta) else address
        self.moved(self.at)
        if self.wish is not None and self.wish <= self.at:
            self.wish = None
            for callback in self.callbacks:
                callback()


@dataclass
class Town:
    """Everything delivery needs, and short ways to fill it."""

    wire: Wire
    client: discord.Client
    store: Store
    clock: HandClock
    tryout_id: int
    lives: AsyncExitStack

    @asynccontextmanager
    async def post(self, lanes: int = 4) -> AsyncIterator[DeliveryLoop]:
        """The real post; what is committed wakes it."""
        async with DeliveryLoop(self.client, self.store, self.clock, lanes) as opened:
            self.store.on_commit(opened.wake)
            yield opened

    async def deliver(self, within: timedelta = timedelta(0)) -> None:
        """Start delivery, let it do everything it can within some time of the clock, and stop it."""
        async with self.post() as opened:
            await self.settle(opened, within)

    async def settle(self, opened: DeliveryLoop, within: timedelta = timedelta(0)) -> None:
        """Let delivery do everything it can within some time of the clock."""
        end = self.clock.at + within
        await asyncio.wait_for(opened.quiet(), 60)
        while self.clock.wish is not None and self.clock.wish <= end:
            self.clock.move(max(self.clock.wish, self.clock.at))
            await asyncio.wait_for(opened.quiet(), 60)

    async def queue(self, address: str, text: str, stale_after: datetime | None = None, **more: Any) -> int:
        async with self.store.write() as db:
            message = Message(text=text, **more)
            return await outbox.enqueue(db, self.tryout_id, address, message, self.clock.at, stale_after)

    async def place(self, key: str, address: str, pinned: bool = False) -> None:
        async with self.store.write() as db:
            await live_messages.place(db, self.tryout_id, key, address, pinned)

    async def touch(self, pattern: str) -> None:
        async with self.store.write() as db:
            await live_messages.mark_stale(db, self.tryout_id, pattern)

    async def squad(self, name: str, *people: int) -> int:
        """Found a squad with members."""
        async with self.store.write() as db:
            squad_id = await squads.add_squad(db, self.tryout_id, name, (name, name, name), "7-A", name, self.clock.at)
            for person in people:
                self.wire.person(person)
                student_id = await students.enter_student(db, self.tryout_id, person, f"Student {person}", "7-A")
                student = await students.student(db, student_id)
                assert student is not None
                await students.seat(db, student, squad_id, self.clock.at)
            return squad_id

    async def judge(self, person: int, agreed: bool = True) -> int:
        self.wire.person(person)
        async with self.store.write() as db:
            judge_id = await enrol(db, self.tryout_id, person, f"Judge {person}")
            if agreed:
                await judges.opt_in(db, judge_id, f"Judge {person}", self.clock.at)
            return judge_id

    async def officer(self, person: int, role: str = "coach") -> None:
        self.wire.person(person)
        async with self.store.write() as db:
            await helpers.add_officer(db, self.tryout_id, person, f"Coach {person}", role)

    async def outgoing(self, outbox_id: int) -> OutboxMessage:
        async with self.store.read() as db:
            found = await outbox.get(db, outbox_id)
        assert found is not None
        return found

    async def live(self, key: str) -> LiveMessage:
        async with self.store.read() as db:
            found = await live_messages.by_key(db, self.tryout_id, key)
        assert found is not None
        return found

    async def room(self, squad_id: int) -> Room:
        async with self.store.read() as db:
            found = await rooms.room(db, squad_id)
        assert found is not None
        return found

    async def room_id(self, squad_id: int) -> int:
        found = (await self.room(squad_id)).room_id
        assert found is not None
        return found

    def told(self) -> list[str]:
        """What the coach was told in the office."""
        return self.wire.texts(OFFICE)

    async def run_until_killed(self, after: bool, fatal: Callable[[str], bool], within: timedelta) -> bool:
        """Run delivery and kill it at the first request that is fatal, before or after the server acts.

        Returns whether it was killed; if not, it did everything it could within some time of the clock.
        """
        fallen = asyncio.Event()

        async def kill(route: str, body: Json) -> Fault | None:
            if not fallen.is_set() and fatal(route):
                fallen.set()
            if fallen.is_set():
                # The process is dead: what it asks from now on never arrives, what it asked is never answered.
                await self.wire.ended.wait()
                return RESET
            return None

        setattr(self.wire, "after" if after else "before", kill)
        try:
            async with self.post() as opened:
                tasks = [asyncio.create_task(fallen.wait()), asyncio.create_task(self.settle(opened, within))]
                await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
                if fallen.is_set():
                    await crash(opened)
                    self.wire.before = self.wire.after = None
                    # A new process would know nothing of what the chat library had in its hands.
                    self.client = await self.lives.enter_async_context(logged_in(self.wire))
                for task in tasks:
                    task.cancel()
                await asyncio.wait(tasks)
        finally:
            self.wire.before = self.wire.after = None
        return fallen.is_set()


@asynccontextmanager
async def town(path: Path, wire: Wire, client: discord.Client, *, durable: bool = False) -> AsyncIterator[Town]:
    """A town whose class server has the four rooms of a try-out; `durable` where a crash is what is tried."""
    clock = HandClock(moved=wire.world.timeline.move_to)
    async with Store.open(new_database(path), durable=durable) as store:
        async with store.write() as db:
            tryout_id = await tryouts.create(db, wire.world.guild_id, small_plan(), START)
            await tryouts.set_state(db, tryout_id, "signup")
            for kind, room in zip(ROOM_KINDS, (SIGNUP, NEWS, SQUADS, OFFICE), strict=True):
                wire.channel(room)
                await tryouts.set_room(db, tryout_id, kind, room)
        async with AsyncExitStack() as lives:
            yield Town(wire, client, store, clock, tryout_id, lives)
    assert wire.server.request_log.violations == [], "what was asked was within the rules of the platform"


async def crash(opened: DeliveryLoop) -> None:
    """What a killed process leaves: nothing more happens, nothing is finished."""
    tasks = [task for task in (opened._task, *opened._worker._running.values()) if task is not None]
    for task in tasks:
        task.cancel()
    await asyncio.wait(tasks)
    opened._task = None

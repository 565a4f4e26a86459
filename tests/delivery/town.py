"""A database with a try-out in it, a class server on loopback, and a clock that is moved by hand."""

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import AsyncExitStack, asynccontextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import discord

from bot.delivery.service import DeliveryService
from deploy.rehearsal.server.class_server import Behaviour, ClassServer
from deploy.rehearsal.server.fault_injection import Fault
from deploy.rehearsal.server.rate_limits import Pace, Paces
from deploy.rehearsal.wire.request_bodies import Body
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import DIRECT, TEXT, Person
from deploy.rehearsal.world.state import Message as Post
from deploy.rehearsal.world.state import Room as Channel
from storage.records.delivery import LiveMessage, OutboxMessage, Room
from storage.records.message import Message
from storage.records.tryout import ROOM_KINDS
from storage.store import Store
from storage.tables import judges, queueing, rooms, squads, tryouts
from tests.actions.conftest import small_plan
from tests.databases import new_database

START = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
SIGNUP, NEWS, SQUADS, OFFICE = 50, 51, 52, 53
MINUTES = timedelta(minutes=10)

SENDING = "POST /channels/{channel_id}/messages"
EDITING = "PATCH /channels/{channel_id}/messages/{message_id}"
LOOKING = "GET /channels/{channel_id}/messages"
PINNING = "PUT /channels/{channel_id}/messages/pins/{message_id}"
OPENING_ROOM = "POST /channels/{channel_id}/threads"
ADDING = "PUT /channels/{channel_id}/thread-members/{user_id}"
OPENING_DIRECT = "POST /users/@me/channels"

RESET = Fault(reset_before=True)
"""The connection is cut instead of an answer."""
UNLIMITED = Paces(Pace(100_000, 1.0), Pace(100_000, 1.0), {})
"""Rate limits are given by hand in these checks, so that no check waits for one."""
Trouble = Callable[[str, Json], Awaitable[Fault | None]]


def answer(body: Any, status: int = 200, **headers: str) -> Fault:
    """An answer of our own in the place of the class server's."""
    return Fault(status, body, headers)


def refusal(status: int, code: int) -> Fault:
    """An error as the platform words it."""
    return answer({"message": f"error {code}", "code": code}, status)


def once(*answers: Fault, route: str = SENDING, saying: str | None = None) -> Trouble:
    """Give these answers to the first requests on a route (that say this), and let the server act after that."""
    left = list(answers)

    async def trouble(asked: str, body: Json) -> Fault | None:
        meant = asked == route and saying in (None, body.get("content"))
        return left.pop(0) if left and meant else None

    return trouble


class Wire:
    """The rehearsal's class server as these checks see it: what stands in its rooms, and what goes wrong.

    People and channels get ids that are chosen here; people join the class server when they are first named.
    """

    def __init__(self) -> None:
        self.server = ClassServer(START, behaviour=Behaviour(paces=UNLIMITED))
        self.server.rest.hooks.before = self._before
        self.server.rest.hooks.after = self._after
        self.server.messages.history_tells_nonces = False
        self.world = self.server.world
        self.requests = self.server.request_log.requests
        self.log: list[tuple[str, Json]] = []
        self.before: Trouble | None = None
        """Asked before the server acts; an answer it gives is the server's."""
        self.after: Trouble | None = None
        """The same once the server has acted."""
        self.ended = asyncio.Event()
        """The end of the check: what is held up until then is never answered."""

    async def _before(self, route: str, body: Body) -> Fault | None:
        said: Json = body.value if isinstance(body.value, dict) else {}
        self.log.append((route, said))
        return await self.before(route, said) if self.before else None

    async def _after(self, route: str, body: Body) -> Fault | None:
        said: Json = body.value if isinstance(body.value, dict) else {}
        return await self.after(route, said) if self.after else None

    def nonces(self, *, remembered: bool = False, told: bool = False) -> None:
        """Whether a nonce sent again gives the old message back, and whether the history of a room tells nonces."""
        self.server.messages.nonce_memory = timedelta(days=1) if remembered else timedelta(seconds=-1)
        self.server.messages.history_tells_nonces = told

    def person(self, person_id: int) -> Person:
        """Somebody of the class server."""
        if person_id not in self.world.people:
            name = f"Person {person_id}"
            self.world.people[person_id] = Person(person_id, name, f"person{person_id}", [], START)
        return self.world.people[person_id]

    def channel(self, channel_id: int) -> Channel:
        """Have a text channel."""
        return self.world.rooms.setdefault(channel_id, Channel(channel_id, TEXT, f"channel-{channel_id}", START))

    def posts(self, room_id: int) -> list[Post]:
        """What stands in a room, oldest first; the platform's own notes left out."""
        return [post for post in self.world.rooms[room_id].messages.values() if not post.deleted and post.kind == 0]

    def texts(self, room_id: int) -> list[str]:
        """The words of what stands in a room."""
        return [post.content for post in self.posts(room_id)]

    def threads(self) -> list[Channel]:
        """Every private room there is."""
        return [room for room in self.world.rooms.values() if room.is_thread]

    def members(self, room_id: int) -> set[int]:
        """The people in a private room, the bot left out."""
        return {*self.world.rooms[room_id].members} - {self.world.bot.id}

    def direct(self, person_id: int) -> int | None:
        """The conversation between the bot and somebody, once one was opened."""
        rooms = self.world.rooms.values()
        return next((room.id for room in rooms if room.kind == DIRECT and person_id in room.members), None)

    def direct_texts(self, person_id: int) -> list[str]:
        """What the bot told somebody there."""
        room_id = self.direct(person_id)
        return [] if room_id is None else self.texts(room_id)

    def pins(self) -> set[int]:
        """The ids of everything that is pinned anywhere."""
        return {post for room in self.world.rooms.values() for post in room.pins}


@asynccontextmanager
async def serving(wire: Wire) -> AsyncIterator[None]:
    """The class server on loopback, with the chat library pointed at it."""
    usual = discord.http.Route.BASE
    async with wire.server:
        discord.http.Route.BASE = wire.server.api
        try:
            yield
        finally:
            wire.ended.set()
            discord.http.Route.BASE = usual


@asynccontextmanager
async def logged_in(wire: Wire) -> AsyncIterator[discord.Client]:
    """The real client of the chat library, logged in over REST."""
    client = discord.Client(
        intents=discord.Intents(guilds=True),
        allowed_mentions=discord.AllowedMentions.none(),
        max_ratelimit_timeout=30,
    )
    try:
        await client.login(wire.server.token)
        yield client
    finally:
        await client.close()
        await asyncio.sleep(0)


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
    async def post(self, lanes: int = 4) -> AsyncIterator[DeliveryService]:
        """The real post; what is committed wakes it."""
        async with DeliveryService(self.client, self.store, self.clock, lanes) as opened:
            self.store.on_commit(opened.wake)
            yield opened

    async def deliver(self, within: timedelta = timedelta(0)) -> None:
        """Start delivery, let it do everything it can within some time of the clock, and stop it."""
        async with self.post() as opened:
            await self.settle(opened, within)

    async def settle(self, opened: DeliveryService, within: timedelta = timedelta(0)) -> None:
        """Let delivery do everything it can within some time of the clock."""
        end = self.clock.at + within
        await asyncio.wait_for(opened.quiet(), 60)
        while self.clock.wish is not None and self.clock.wish <= end:
            self.clock.move(max(self.clock.wish, self.clock.at))
            await asyncio.wait_for(opened.quiet(), 60)

    async def queue(self, address: str, text: str, stale_after: datetime | None = None, **more: Any) -> int:
        async with self.store.write() as db:
            message = Message(text=text, **more)
            return await queueing.enqueue(db, self.tryout_id, address, message, self.clock.at, stale_after)

    async def place(self, key: str, address: str, pinned: bool = False) -> None:
        async with self.store.write() as db:
            await queueing.place_live_message(db, self.tryout_id, key, address, pinned)

    async def touch(self, pattern: str) -> None:
        async with self.store.write() as db:
            await queueing.mark_stale(db, self.tryout_id, pattern)

    async def squad(self, name: str, *people: int) -> int:
        """Found a squad with members."""
        async with self.store.write() as db:
            squad_id = await squads.add_squad(db, self.tryout_id, name, (name, name), "7-A", name, self.clock.at)
            for person in people:
                self.wire.person(person)
                student_id = await squads.enter_student(db, self.tryout_id, person, f"Student {person}", "7-A")
                student = await squads.student(db, student_id)
                assert student is not None
                await squads.seat(db, student, squad_id, self.clock.at)
            return squad_id

    async def judge(self, person: int, agreed: bool = True) -> int:
        self.wire.person(person)
        async with self.store.write() as db:
            judge_id = await judges.enrol(db, self.tryout_id, person, f"Judge {person}")
            if agreed:
                await judges.opt_in(db, judge_id, f"Judge {person}", self.clock.at)
            return judge_id

    async def officer(self, person: int, role: str = "coach") -> None:
        self.wire.person(person)
        async with self.store.write() as db:
            await tryouts.add_officer(db, self.tryout_id, person, f"Coach {person}", role)

    async def outgoing(self, outbox_id: int) -> OutboxMessage:
        async with self.store.read() as db:
            found = await queueing.outbox_message(db, outbox_id)
        assert found is not None
        return found

    async def live(self, key: str) -> LiveMessage:
        async with self.store.read() as db:
            found = await queueing.live_message(db, self.tryout_id, key)
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


async def crash(opened: DeliveryService) -> None:
    """What a killed process leaves: nothing more happens, nothing is finished."""
    tasks = [task for task in (opened._task, *opened._courier._running.values()) if task is not None]
    for task in tasks:
        task.cancel()
    await asyncio.wait(tasks)
    opened._task = None

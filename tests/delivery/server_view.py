"""The rehearsal's class server as the checks of delivery use it: what stands in its rooms, and what goes wrong."""

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from typing import Any

import discord

from deploy.rehearsal.server.class_server import Behaviour, ClassServer
from deploy.rehearsal.server.platform_faults import Fault
from deploy.rehearsal.server.rate_limits import Pace, Paces
from deploy.rehearsal.wire.request_bodies import Body
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import DIRECT, TEXT, Person
from deploy.rehearsal.world.state import Message as Post
from deploy.rehearsal.world.state import Room as Channel

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

    def rooms_of_judges(self) -> list[int]:
        """The private rooms that stand in for direct messages to judges."""
        return [thread.id for thread in self.threads() if thread.name.startswith("judge")]

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

"""A small class server on loopback: as much REST as delivery needs, and it can be told to misbehave."""

import asyncio
import json
from collections import Counter
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

import discord
from aiohttp import BodyPartReader, web
from aiohttp.test_utils import TestServer

BOT = 900
SERVER = 500
SENDING = "POST /channels/N/messages"
MINUTES = timedelta(minutes=10)
EPOCH_MS = 1_420_070_400_000

Json = dict[str, Any]
RESET = web.Response(status=599)
"""As an answer: the connection is cut instead."""
Trouble = Callable[[str, str, Json], Awaitable[web.StreamResponse | None]]


def answer(body: Any, status: int = 200, **headers: str) -> web.Response:
    """A JSON answer with the exact content type the chat library wants."""
    return web.Response(
        body=json.dumps(body).encode(), status=status, headers={"Content-Type": "application/json", **headers}
    )


def refusal(status: int, code: int) -> web.Response:
    """An error as the platform words it."""
    return answer({"message": f"error {code}", "code": code}, status)


@dataclass
class Wire:
    """What the class server holds: rooms, messages, threads and their members."""

    now: Callable[[], datetime] = lambda: datetime.now(UTC)
    rooms: dict[int, list[Json]] = field(default_factory=dict)
    threads: dict[int, Json] = field(default_factory=dict)
    members: dict[int, set[int]] = field(default_factory=dict)
    pins: set[int] = field(default_factory=set)
    directs: dict[int, int] = field(default_factory=dict)
    closed_directs: set[int] = field(default_factory=set)
    open_members: set[int] = field(default_factory=set)
    """People with closed direct messages who can be added to threads all the same."""
    nonces: dict[str, Json] = field(default_factory=dict)
    remembers_nonces: bool = True
    tells_nonces: bool = False
    requests: Counter[str] = field(default_factory=Counter)
    log: list[tuple[str, str, Json]] = field(default_factory=list)
    before: Trouble | None = None
    """Asked before the server acts; an answer it gives is the server's."""
    after: Trouble | None = None
    """The same once the server has acted."""
    counter: int = 0

    def id(self) -> int:
        """A fresh id that carries the time."""
        self.counter += 1
        return (int(self.now().timestamp() * 1000) - EPOCH_MS) << 22 | self.counter

    def texts(self, room: int) -> list[str]:
        """What stands in a room, oldest first; the platform's own notes left out."""
        return [message["content"] for message in self.rooms[room] if message["type"] == 0]

    def room(self, room_id: int) -> None:
        """Have a text channel."""
        self.rooms[room_id] = []

    async def handle(self, request: web.Request) -> web.StreamResponse:
        """Serve one request, or cut the connection."""
        done = await self._serve(request)
        if done is RESET:
            assert request.transport is not None
            request.transport.abort()
        return done

    async def _serve(self, request: web.Request) -> web.StreamResponse:
        method, path = request.method, request.path.removeprefix("/api/v10")
        body, files = await _read(request)
        body["_query"] = dict(request.query)
        generic = "/".join("N" if part.isdigit() else part for part in path.split("/"))
        self.requests[f"{method} {generic}"] += 1
        self.log.append((method, path, body))
        if self.before is not None:
            trouble = await self.before(method, generic, body)
            if trouble is not None:
                return trouble
        parts = [int(part) if part.isdigit() else part for part in path.split("/")[1:]]
        done = self._act(method, parts, body, files)
        if self.after is not None:
            trouble = await self.after(method, generic, body)
            if trouble is not None:
                return trouble
        return done

    def _act(self, method: str, parts: list[Any], body: Json, files: dict[str, bytes]) -> web.Response:  # noqa: PLR0911, PLR0912
        match method, parts:
            case "GET", ["users", "@me"]:
                return answer(_user(BOT))
            case "GET", ["oauth2", "applications", "@me"]:
                owner = {"id": "1", "name": "tenbell", "description": "", "icon": None, "owner": _user(1)}
                return answer(owner | {"bot_public": False, "bot_require_code_grant": False, "verify_key": ""})
            case "POST", ["users", "@me", "channels"]:
                person = int(body["recipient_id"])
                if person in self.closed_directs:
                    return refusal(403, 50007)
                room = self.directs.setdefault(person, 70_000 + person)
                self.rooms.setdefault(room, [])
                return answer({"id": str(room), "type": 1, "recipients": [_user(person)]})
            case "POST", ["interactions", _, _, "callback"]:
                response = {"interaction": {"id": "1", "type": 3, "response_message_id": str(self.id())}}
                if body["type"] in (4, 7):
                    response["resource"] = {"type": body["type"], "message": self._message(1, body["data"], files)}
                return answer(response)
            case _, ["webhooks", _, _, *_]:
                return answer(self._message(1, body, files))
            case "GET", ["guilds", _, "threads", "active"]:
                active = [thread for thread in self.threads.values() if not thread["thread_metadata"]["archived"]]
                return answer({"threads": active, "members": []})
            case _, ["channels", room, *_] if room not in self.rooms:
                return refusal(404, 10003)
            case "GET", ["channels", room]:
                return answer(self._channel(room))
            case "PATCH", ["channels", thread]:
                return self._change_thread(thread, body)
            case "POST", ["channels", room, "threads"]:
                return answer(self._open_thread(room, body), 201)
            case "PUT" | "DELETE", ["channels", thread, "thread-members", person]:
                return self._seat(method, thread, person)
            case "GET", ["channels", room, "messages"]:
                after, limit = int(body["_query"].get("after", 0)), int(body["_query"]["limit"])
                found = [message for message in self.rooms[room] if int(message["id"]) > after][:limit]
                return answer([{k: v for k, v in m.items() if self.tells_nonces or k != "nonce"} for m in found[::-1]])
            case "POST", ["channels", room, "messages"]:
                return self._post(room, body, files)
            case "PUT", ["channels", _, "messages", "pins", message_id]:
                self.pins.add(message_id)
                return web.Response(status=204)
            case "PATCH" | "DELETE", ["channels", room, "messages", message_id]:
                return self._change_message(method, room, message_id, body, files)
        return refusal(404, 0)

    def _post(self, room: int, body: Json, files: dict[str, bytes]) -> web.Response:
        person = next((person for person, direct in self.directs.items() if direct == room), None)
        if person in self.closed_directs:
            return refusal(403, 50007)
        known = self.nonces.get(f"{room}/{body['nonce']}") if self.remembers_nonces else None
        if known is not None:
            return answer(known)
        if room in self.threads:
            if self.threads[room]["thread_metadata"]["locked"]:
                return refusal(400, 160005)
            self.threads[room]["thread_metadata"]["archived"] = False
        message = self._message(room, body, files)
        self.rooms[room].append(message)
        self.nonces[f"{room}/{body['nonce']}"] = message
        return answer(message)

    def _message(self, room: int, body: Json, files: dict[str, bytes]) -> Json:
        attachments = [
            {"id": str(self.id()), "filename": name, "size": len(data), "url": "http://127.0.0.1/f", "proxy_url": ""}
            for name, data in files.items()
        ]
        return {
            "id": str(self.id()),
            "type": 0,
            "channel_id": str(room),
            "author": _user(BOT),
            "content": body.get("content") or "",
            "timestamp": self.now().isoformat(),
            "edited_timestamp": None,
            "tts": False,
            "mention_everyone": False,
            "mentions": [],
            "mention_roles": [],
            "attachments": attachments,
            "embeds": [],
            "pinned": False,
            "components": body.get("components") or [],
            "nonce": body.get("nonce"),
        }

    def _change_message(
        self, method: str, room: int, message_id: int, body: Json, files: dict[str, bytes]
    ) -> web.Response:
        for message in self.rooms[room]:
            if int(message["id"]) != message_id:
                continue
            if room in self.threads and self.threads[room]["thread_metadata"]["archived"]:
                return refusal(400, 50083)
            if method == "DELETE":
                self.rooms[room].remove(message)
                return web.Response(status=204)
            message["content"] = body["content"]
            message["components"] = body.get("components") or []
            if "attachments" in body:
                message["attachments"] = self._message(room, body, files)["attachments"]
            message["edited_timestamp"] = self.now().isoformat()
            return answer(message)
        return refusal(404, 10008)

    def _channel(self, room: int) -> Json:
        if room in self.threads:
            return self.threads[room]
        return {
            "id": str(room),
            "type": 0,
            "guild_id": str(SERVER),
            "name": f"room-{room}",
            "position": 0,
            "permission_overwrites": [],
            "parent_id": None,
        }

    def _open_thread(self, room: int, body: Json) -> Json:
        thread = self.id()
        self.rooms[thread] = []
        self.members[thread] = set()
        self.threads[thread] = {
            "id": str(thread),
            "type": body["type"],
            "guild_id": str(SERVER),
            "name": body["name"],
            "parent_id": str(room),
            "owner_id": str(BOT),
            "message_count": 0,
            "member_count": 1,
            "rate_limit_per_user": 0,
            "thread_metadata": {
                "archived": False,
                "archive_timestamp": self.now().isoformat(),
                "auto_archive_duration": body["auto_archive_duration"],
                "locked": False,
                "invitable": body.get("invitable"),
                "create_timestamp": self.now().isoformat(),
            },
        }
        return self.threads[thread]

    def _change_thread(self, thread: int, body: Json) -> web.Response:
        state = self.threads[thread]
        if "name" in body:
            if state["thread_metadata"]["archived"] and body.get("archived") is not False:
                return refusal(400, 50083)
            state["name"] = body["name"]
        for key in ("archived", "locked"):
            if key in body:
                state["thread_metadata"][key] = body[key]
        return answer(state)

    def _seat(self, method: str, thread: int, person: int) -> web.Response:
        if self.threads[thread]["thread_metadata"]["archived"]:
            return refusal(400, 50083)
        if person in self.closed_directs - self.open_members:
            return refusal(403, 50001)
        (self.members[thread].add if method == "PUT" else self.members[thread].discard)(person)
        return web.Response(status=204)


def _user(user_id: int) -> Json:
    return {"id": str(user_id), "username": f"user{user_id}", "discriminator": "0", "avatar": None, "bot": True}


async def _read(request: web.Request) -> tuple[Json, dict[str, bytes]]:
    if request.content_type == "multipart/form-data":
        body: Json = {}
        files: dict[str, bytes] = {}
        async for part in await request.multipart():
            assert isinstance(part, BodyPartReader)
            if part.name == "payload_json":
                body = json.loads(await part.text())
            else:
                files[part.filename or ""] = bytes(await part.read(decode=False))
        return body, files
    raw = await request.read()
    read = json.loads(raw) if raw and request.content_type == "application/json" else {}
    return (read if isinstance(read, dict) else {"list": read}), {}


@asynccontextmanager
async def serving(wire: Wire) -> AsyncIterator[None]:
    """The class server on loopback, with the chat library pointed at it."""
    application = web.Application(client_max_size=30 * 2**20)
    application.router.add_route("*", "/{path:.*}", wire.handle)
    usual = discord.http.Route.BASE
    async with TestServer(application) as running:
        discord.http.Route.BASE = f"http://127.0.0.1:{running.port}/api/v10"
        try:
            yield
        finally:
            discord.http.Route.BASE = usual


@asynccontextmanager
async def logged_in() -> AsyncIterator[discord.Client]:
    """The real client of the chat library, logged in over REST."""
    client = discord.Client(
        intents=discord.Intents(guilds=True),
        allowed_mentions=discord.AllowedMentions.none(),
        max_ratelimit_timeout=30,
    )
    try:
        await client.login("not-a-token")
        yield client
    finally:
        await client.close()
        await asyncio.sleep(0)


def once(
    *answers: web.Response, route: str = SENDING, saying: str | None = None
) -> Callable[[str, str, Json], Awaitable[Any]]:
    """Give these answers to the first requests on a route (that say this), and let the server act after that."""
    left = list(answers)

    async def trouble(method: str, path: str, body: Json) -> web.Response | None:
        meant = f"{method} {path}" == route and saying in (None, body.get("content"))
        return left.pop(0) if left and meant else None

    return trouble

"""One gateway connection from HELLO to its close code, by the public page on the gateway."""

from __future__ import annotations

import asyncio
import json
import time
from collections import deque
from typing import Any

from aiohttp import WSMsgType, web

from deploy.rehearsal.server.gateway_sessions import GUILDS, KNOWN_INTENTS, PRIVILEGED, Gateway, Line, Session
from deploy.rehearsal.wire.guild_objects import guild_create_shape, member_shape, own_user_shape
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import World

HEARTBEAT_MS = 41_250
"""How often a client is told to send a heartbeat."""
FRAME_LIMIT = 4096
SENDS, SENDS_WINDOW = 120, 60.0


class Closing(Exception):
    """The server ends the connection with a close code."""

    def __init__(self, code: int, reason: str) -> None:
        self.code = code
        self.reason = reason
        super().__init__(f"{code} {reason}")


class GatewaySocket:
    """Serves `GET /gateway` connections."""

    def __init__(self, world: World, gateway: Gateway, *, token: str, heartbeat_ms: int = HEARTBEAT_MS) -> None:
        self._world = world
        self._gateway = gateway
        self._token = token
        self._heartbeat_ms = heartbeat_ms
        self.address = "ws://127.0.0.1"
        self.allowed_intents = KNOWN_INTENTS & ~PRIVILEGED
        self.identifies = 0

    async def serve(self, request: web.Request) -> web.WebSocketResponse:
        """Talk with one client until either side ends."""
        socket = web.WebSocketResponse(max_msg_size=0)
        await socket.prepare(request)
        line = Line(socket, request.transport, compressed=request.query.get("compress") == "zlib-stream")
        if self._gateway.down:
            line.abort()
            return socket
        pump = asyncio.create_task(line.pump())
        session: Session | None = None
        resumable = True
        try:
            if request.query.get("v") != "10" or request.query.get("encoding", "json") != "json":
                raise Closing(4012, "Invalid API version.")
            line.put(_frame(10, {"heartbeat_interval": self._heartbeat_ms}))
            session = await self._converse(socket, line)
        except Closing as closing:
            session = _session_on(self._gateway, line)
            resumable = closing.code not in (4004, 4010, 4011, 4012, 4013, 4014)
            await line.close(closing.code, closing.reason)
        finally:
            session = session or _session_on(self._gateway, line)
            if session is not None and session.line is line:
                self._gateway.drop(session, resumable=resumable and socket.close_code not in (1000, 1001))
            line.end()
            pump.cancel()
        return socket

    async def _converse(self, socket: web.WebSocketResponse, line: Line) -> Session | None:
        session: Session | None = None
        received: deque[float] = deque()
        while True:
            try:
                message = await socket.receive(timeout=self._heartbeat_ms / 1000 * 2)
            except TimeoutError:
                raise Closing(4009, "Session timed out.") from None
            if message.type not in (WSMsgType.TEXT, WSMsgType.BINARY):
                return session
            if line.half_open:
                continue
            _count(received)
            payload = _decode(message.data)
            operation, data = payload.get("op"), payload.get("d")
            if operation == 1:
                line.put(_frame(11, None))
            elif operation in (2, 6):
                if session is not None:
                    raise Closing(4005, "Already authenticated.")
                session = self._identify(data, line) if operation == 2 else self._resume(data, line)
            elif session is None:
                raise Closing(4003, "Not authenticated.")
            elif operation == 8:
                self._members_chunk(session, data)
            elif operation not in (3, 4, 31):
                raise Closing(4001, "Unknown opcode.")

    def _identify(self, data: Any, line: Line) -> Session:
        if not isinstance(data, dict):
            raise Closing(4002, "Error while decoding payload.")
        self._check_token(data)
        intents = data.get("intents")
        if not isinstance(intents, int) or intents & ~KNOWN_INTENTS:
            raise Closing(4013, "Invalid intent(s).")
        if intents & ~self.allowed_intents:
            raise Closing(4014, "Disallowed intent(s).")
        shard = data.get("shard") or [0, 1]
        if not (isinstance(shard, list) and len(shard) == 2 and 0 <= shard[0] < shard[1]):
            raise Closing(4010, "Invalid shard.")
        self.identifies += 1
        session = self._gateway.open_session(intents, line)
        guild = {"id": str(self._world.guild_id), "unavailable": True}
        ready: Json = {
            "v": 10,
            "user": own_user_shape(self._world.bot),
            "guilds": [guild],
            "session_id": session.id,
            "resume_gateway_url": self.address,
            "shard": shard,
            "application": {"id": str(self._world.application_id), "flags": 0},
            "private_channels": [],
            "relationships": [],
        }
        self._gateway.dispatch(session, "READY", ready)
        if intents & GUILDS:
            self._gateway.dispatch(session, "GUILD_CREATE", guild_create_shape(self._world))
        self._gateway.identified.set()
        return session

    def _resume(self, data: Any, line: Line) -> Session | None:
        if not isinstance(data, dict):
            raise Closing(4002, "Error while decoding payload.")
        self._check_token(data)
        known = self._gateway.sessions.get(str(data.get("session_id")))
        sequence = data.get("seq")
        if known is not None and (not isinstance(sequence, int) or sequence > known.sequence):
            raise Closing(4007, "Invalid seq.")
        session = self._gateway.resume(str(data.get("session_id")), sequence or 0, line)
        if session is None:
            line.put(_frame(9, False))
        else:
            self._gateway.identified.set()
        return session

    def _check_token(self, data: Json) -> None:
        if str(data.get("token", "")).removeprefix("Bot ") != self._token:
            raise Closing(4004, "Authentication failed.")

    def _members_chunk(self, session: Session, data: Any) -> None:
        """Answer op 8 as for a bot without the members intent: only people asked for by id."""
        wanted = data.get("user_ids") or [] if isinstance(data, dict) else []
        ids = [str(person) for person in (wanted if isinstance(wanted, list) else [wanted])]
        people = {str(person.id): person for person in self._world.people.values() if person.in_guild}
        chunk: Json = {
            "guild_id": str(self._world.guild_id),
            "members": [member_shape(people[person]) for person in ids if person in people],
            "chunk_index": 0,
            "chunk_count": 1,
            "not_found": [person for person in ids if person not in people],
        }
        if isinstance(data, dict) and data.get("nonce"):
            chunk["nonce"] = data["nonce"]
        self._gateway.dispatch(session, "GUILD_MEMBERS_CHUNK", chunk)


def _session_on(gateway: Gateway, line: Line) -> Session | None:
    return next((session for session in gateway.sessions.values() if session.line is line), None)


def _count(received: deque[float]) -> None:
    now = time.monotonic()
    received.append(now)
    while received and now - received[0] > SENDS_WINDOW:
        received.popleft()
    if len(received) > SENDS:
        raise Closing(4008, "You are being rate limited.")


def _decode(data: str | bytes) -> Json:
    if len(data) > FRAME_LIMIT:
        raise Closing(4002, "Error while decoding payload.")
    try:
        payload = json.loads(data)
    except ValueError:
        raise Closing(4002, "Error while decoding payload.") from None
    if not isinstance(payload, dict):
        raise Closing(4002, "Error while decoding payload.")
    return payload


def _frame(operation: int, data: Any) -> str:
    return json.dumps({"op": operation, "d": data, "s": None, "t": None})

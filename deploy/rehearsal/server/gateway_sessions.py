"""The gateway: sessions, intents, and which event goes to whom, by the public page on the gateway."""

from __future__ import annotations

import asyncio
import hashlib
import json
import time
import zlib
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field

from aiohttp import WSCloseCode, web

from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import World

GUILDS, GUILD_MESSAGES, DIRECT_MESSAGES, MESSAGE_CONTENT = 1 << 0, 1 << 9, 1 << 12, 1 << 15
PRIVILEGED = 1 << 1 | 1 << 8 | MESSAGE_CONTENT
KNOWN_INTENTS = sum(1 << bit for bit in (*range(17), 20, 21, 24, 25))
REPLAY_LIMIT = 2000
RESUMABLE_FOR = 120.0
"""Real seconds a session survives after its socket is gone; the platform says "some minutes"."""


@dataclass(eq=False)
class Session:
    """One identified client: what it wants to hear, and what it was sent, for a replay."""

    id: str
    intents: int
    sequence: int = 0
    sent: deque[tuple[int, str]] = field(default_factory=lambda: deque(maxlen=REPLAY_LIMIT))
    line: Line | None = None
    lost_at: float | None = None

    @property
    def reachable(self) -> bool:
        """Whether an event sent now has a chance to be heard: on a live socket or by a replay soon."""
        if self.line is not None:
            return True
        return self.lost_at is not None and time.monotonic() - self.lost_at < RESUMABLE_FOR


class Line:
    """One websocket with its queue of frames; a half-open line accepts everything and delivers nothing."""

    def __init__(
        self, socket: web.WebSocketResponse, transport: asyncio.BaseTransport | None, *, compressed: bool = False
    ) -> None:
        """`compressed` sends all frames as one zlib stream, flushed after each frame, as clients may ask for.

        Nothing in it is made smaller: on one machine that takes longer than to send it as it is.
        """
        self.socket = socket
        self._zlib = zlib.compressobj(level=0) if compressed else None
        self._transport = transport
        self.half_open = False
        self._frames: asyncio.Queue[str | None] = asyncio.Queue()

    def put(self, frame: str) -> None:
        """Queue a frame; frames leave in the order they were put."""
        self._frames.put_nowait(frame)

    def end(self) -> None:
        """Let the pump finish after what is queued."""
        self._frames.put_nowait(None)

    async def pump(self) -> None:
        """Send queued frames until told to end or until the socket is gone."""
        while (frame := await self._frames.get()) is not None:
            if self.half_open:
                continue
            try:
                await self._send(frame)
            except (ConnectionError, RuntimeError):
                return

    async def _send(self, frame: str) -> None:
        if self._zlib is None:
            await self.socket.send_str(frame)
        else:
            await self.socket.send_bytes(self._zlib.compress(frame.encode()) + self._zlib.flush(zlib.Z_SYNC_FLUSH))

    def abort(self) -> None:
        """Tear the connection down without a close frame."""
        self.end()
        if isinstance(self._transport, asyncio.WriteTransport):
            self._transport.abort()

    async def close(self, code: int, reason: str = "") -> None:
        """Close the socket with a gateway close code."""
        self.end()
        await self.socket.close(code=code, message=reason.encode())


EventFaults = Callable[[str, Json], list[tuple[str, Json]]]
"""What an injected fault may do to one event: leave it, repeat it, or hold it back and let it out after the next."""


class Gateway:
    """All sessions of the bot; `emit` is synchronous, so that events of one moment leave in one go."""

    def __init__(self, world: World, *, seed: int = 0) -> None:
        self._world = world
        self._seed = seed
        self._count = 0
        self.sessions: dict[str, Session] = {}
        self.identified = asyncio.Event()
        self.event_faults: EventFaults | None = None
        self.refuse_next_resume = False
        self.down = False
        """Whether no client gets through: what connects is dropped at once."""
        self.deliveries = 0
        self.resumes = 0

    @property
    def reachable(self) -> bool:
        """Whether any session could still hear an event."""
        return any(session.reachable for session in self.sessions.values())

    def open_session(self, intents: int, line: Line) -> Session:
        """Start a session on `line`; earlier ones without a socket are forgotten: nobody will resume them now."""
        self.forget_lost()
        self._count += 1
        name = hashlib.sha256(f"session|{self._seed}|{self._count}".encode()).hexdigest()[:32]
        session = Session(name, intents, line=line)
        self.sessions[name] = session
        return session

    def forget_lost(self) -> None:
        """Forget the sessions without a socket, as when the process that held them is known to be dead."""
        self.sessions = {name: session for name, session in self.sessions.items() if session.line is not None}

    def drop(self, session: Session, *, resumable: bool) -> None:
        """Note that the session's socket is gone."""
        session.line = None
        session.lost_at = time.monotonic()
        if not resumable:
            self.sessions.pop(session.id, None)
        self.identified.clear()
        if any(other.line for other in self.sessions.values()):
            self.identified.set()

    def resume(self, session_id: str, sequence: int, line: Line) -> Session | None:
        """Give a session its new line and replay what it missed; nothing if it cannot be resumed."""
        session = self.sessions.get(session_id)
        if session is None or not session.reachable or self.refuse_next_resume:
            self.refuse_next_resume = False
            self.sessions.pop(session_id, None)
            return None
        self.resumes += 1
        session.line, session.lost_at = line, None
        for number, frame in list(session.sent):
            if number > sequence:
                line.put(frame)
        self.dispatch(session, "RESUMED", {})
        return session

    def dispatch(self, session: Session, name: str, data: Json) -> None:
        """Send one event to one session, numbered and kept for a replay."""
        session.sequence += 1
        frame = json.dumps({"op": 0, "s": session.sequence, "t": name, "d": data})
        session.sent.append((session.sequence, frame))
        self.deliveries += 1
        if session.line is not None:
            session.line.put(frame)

    def listeners(self, intent: int = 0) -> list[Session]:
        """Return the sessions that can still hear an event of this intent; `intent` 0 is heard by all."""
        return [s for s in self.sessions.values() if s.reachable and (not intent or s.intents & intent)]

    def emit(self, name: str, data: Json, *, intent: int = 0) -> None:
        """Send an event to every session whose intents allow it."""
        events = self.event_faults(name, data) if self.event_faults else [(name, data)]
        for session in self.listeners(intent):
            for event, payload in events:
                self.dispatch(session, event, payload)

    async def cut(self) -> None:
        """Drop every socket without a close frame, as a lost network does."""
        for line in self._lines():
            line.abort()
        await asyncio.sleep(0)

    def half_open(self) -> None:
        """Let no more bytes out on the present sockets, while they look alive."""
        for line in self._lines():
            line.half_open = True

    def ask_reconnect(self) -> None:
        """Send op 7: the client should close and resume."""
        for line in self._lines():
            line.put(json.dumps({"op": 7, "d": None, "s": None, "t": None}))

    def invalidate(self, *, resumable: bool) -> None:
        """Send op 9; with `resumable` false the sessions are forgotten."""
        for session in list(self.sessions.values()):
            if session.line is not None:
                session.line.put(json.dumps({"op": 9, "d": resumable, "s": None, "t": None}))
                if not resumable:
                    self.sessions.pop(session.id)

    async def close(self) -> None:
        """Close every socket in an orderly way."""
        for line in self._lines():
            await line.close(WSCloseCode.GOING_AWAY)
        self.sessions.clear()

    def _lines(self) -> list[Line]:
        return [session.line for session in self.sessions.values() if session.line is not None]

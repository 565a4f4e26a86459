"""The stepped clock that the class server shares with the bot, on a websocket of our own beside the platform's API.

Server to bot: `{"step": 17, "now": "2027-01-11T20:30:00.000000+00:00"}`, at connection and at each step.
Bot to server: `{"settled": 17, "next": "<ISO instant>" | null}`, once everything due up to `now` is handled and
everything queued is delivered; `next` is when it wants to be woken. Time stands still between steps.
Server to bot: `{"now": "..."}`, for moments that pass before `next`; nothing is due in them, and nothing is answered.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from aiohttp import WSMsgType, web

from deploy.rehearsal.server.machine_time import MachineTime
from deploy.rehearsal.world.virtual_time import Timeline, wire

PATIENCE_S = 30.0
"""So long one step may take by the seconds of `MachineTime`, the bot's absence included."""
STILL_LIMIT = 200
"""Steps at one instant in a row before we say that the bot asks for a moment it never leaves."""


class ClockStuck(Exception):
    """The bot did not settle in time, or keeps asking for a moment that has passed."""


class Clock:
    """Moves virtual time in jumps, stopping wherever the bot asked to be woken."""

    def __init__(self, timeline: Timeline, machine: MachineTime, *, patience_s: float = PATIENCE_S) -> None:
        self._timeline = timeline
        self._machine = machine
        self._patience_s = patience_s
        self._socket: web.WebSocketResponse | None = None
        self._step = 0
        self._settled = -1
        self._wishes_unknown = True
        self._changed = asyncio.Event()
        self._lock = asyncio.Lock()
        self.next: datetime | None = None
        self.ever_connected = False
        self.at_rest: Callable[[], None] = lambda: None
        """Called whenever everything has settled, before time goes on."""

    @property
    def now(self) -> datetime:
        """The present virtual moment, in UTC."""
        return self._timeline.now

    @property
    def connected(self) -> bool:
        """Whether the bot listens to this clock right now."""
        return self._socket is not None

    async def step_to(self, instant: datetime) -> None:
        """Let time pass until `instant`, never past a moment the bot asked for without stopping there.

        While nobody has ever listened to the clock, time simply jumps. A bot that is away is waited for, and one that
        has just come (back) is first asked what it wants, before time moves. Raises `ClockStuck`.
        """
        async with self._lock:
            if not self.ever_connected:
                self.at_rest()
                self._timeline.move_to(instant)
                return
            still = 0
            while True:
                target = self._target(instant)
                still = still + 1 if target <= self.now else 0
                if still > STILL_LIMIT:
                    raise ClockStuck(f"the bot asks again and again to be woken at {self.next}")
                self._timeline.move_to(target)
                await self._one_step()
                self.at_rest()
                due = self.next is not None and self.next <= self.now
                if self.now >= instant and not due:
                    return

    async def pass_to(self, instant: datetime) -> None:
        """Let a moment pass until `instant`, in which nothing is due: the bot is told, and has nothing to answer.

        What it is told next over any line it reads after this. Where something may be due, or the bot is away or still
        at work, as `step_to`.
        """
        settled = self.connected and not self._wishes_unknown and self._settled == self._step
        if not settled or self._lock.locked() or (self.next is not None and self.next <= instant):
            await self.step_to(instant)
            return
        async with self._lock:
            self._timeline.move_to(instant)
            await self._send({"now": wire(self.now)})
            self.at_rest()

    async def settle(self) -> None:
        """Let the bot finish what is due now and everything it has queued; time does not move."""
        await self.step_to(self.now)

    async def settle_if_shared(self) -> None:
        """Settle if a bot has ever listened to this clock; a client without it has nothing to settle."""
        if self.ever_connected:
            await self.settle()
        else:
            self.at_rest()

    async def serve(self, request: web.Request) -> web.WebSocketResponse:
        """Serve `GET /clock`; a new connection takes the place of an older one."""
        socket = web.WebSocketResponse(heartbeat=None)
        await socket.prepare(request)
        self._socket, self.ever_connected = socket, True
        self._wishes_unknown = True
        await self._send({"step": self._step, "now": wire(self.now)})
        try:
            async for message in socket:
                if message.type is WSMsgType.TEXT:
                    self._hear(json.loads(message.data))
        finally:
            if self._socket is socket:
                self._socket = None
        return socket

    async def close(self) -> None:
        """Hang up on the bot."""
        if self._socket is not None:
            await self._socket.close()

    def _target(self, instant: datetime) -> datetime:
        if self._wishes_unknown or self._socket is None:
            return self.now
        return instant if self.next is None else min(instant, self.next)

    async def _one_step(self) -> None:
        self._step += 1
        wanted = self._step
        if not await self._machine.within(self._patience_s, self._settle_step(wanted)):
            state = "is not connected" if self._socket is None else "did not settle"
            raise ClockStuck(f"at {wire(self.now)} (step {wanted}) the bot {state}")

    async def _settle_step(self, wanted: int) -> None:
        await self._send({"step": self._step, "now": wire(self.now)})
        while self._settled < wanted:
            self._changed.clear()
            await self._changed.wait()

    async def _send(self, frame: dict[str, Any]) -> None:
        """Tell the bot the time; one that is away is told when it connects again."""
        if self._socket is not None:
            try:
                await self._socket.send_str(json.dumps(frame))
            except ConnectionError:
                self._socket = None

    def _hear(self, frame: Any) -> None:
        if frame.get("settled") != self._step:
            return
        wanted = frame.get("next")
        self.next = datetime.fromisoformat(wanted).astimezone(UTC) if wanted else None
        self._settled = self._step
        self._wishes_unknown = False
        self._changed.set()

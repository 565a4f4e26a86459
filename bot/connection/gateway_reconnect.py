"""The line on which events come in: kept alive, watched, and made anew whenever it breaks or garbage comes over it."""

import asyncio
import logging
import time
from collections import deque
from contextlib import suppress
from typing import Any

import aiohttp
import discord
from discord.gateway import ReconnectWebSocket

from bot.actions.core.fault_log import log_fault
from bot.connection.connection_errors import trouble_of
from bot.connection.gateway_heartbeat import UnreadableFrame, WatchedSocket
from bot.connection.outage_log import Outage
from bot.connection.reconnect_pauses import FRESH, QUICK, pause_before_line, wished_pause
from bot.settings import BadSetting
from bot.words.core import startup_errors

log = logging.getLogger(__name__)

CONNECT_S = 12.0
"""How long one try to connect may take."""
BAD_TOKEN, BAD_INTENTS = 4004, (4013, 4014)
CLOSED_WELL = 1000


class Line:
    """Connects again and again; a session is taken up where it was left whenever the platform lets us."""

    def __init__(self, client: discord.Client, outage: Outage) -> None:
        self._client = client
        self._outage = outage
        self._made: deque[float] = deque(maxlen=QUICK)
        self._fresh: deque[float] = deque(maxlen=FRESH)
        self._resume: dict[str, Any] = {}
        self._socket: WatchedSocket | None = None
        self._sick = 0

    async def hold(self) -> None:
        """Stay on line until the client is closed.

        Raises:
            BadSetting: the platform does not let us in, and waiting does not mend that.
        """
        while not self._client.is_closed():
            await asyncio.sleep(
                pause_before_line(self._made, self._fresh, time.monotonic(), resumes=bool(self._resume))
            )
            try:
                self._client.ws = self._socket = await self._open()
                await self._listen(self._socket)
            except ReconnectWebSocket as asked:
                self._lost(resume=asked.resume)
            except UnreadableFrame:
                self._lost(resume=self._sick == 0)
                self._sick += 1
                await asyncio.sleep(self._outage.failed("odd"))
            except discord.ConnectionClosed as closed:
                if self._client.is_closed():
                    return
                if closed.code != CLOSED_WELL:
                    raise BadSetting(_refused(closed.code)) from None
                self._lost(resume=True)
                await asyncio.sleep(self._outage.failed("away"))
            except Exception as error:  # noqa: BLE001 - whatever it was, a new line is made
                if self._client.is_closed():
                    return
                what = trouble_of(error)
                if what is None:
                    log_fault(log, "keeping the line to the platform", error)
                self._lost(resume=True)
                await asyncio.sleep(self._outage.failed(what or "odd", wished_pause(error)))

    def up(self) -> None:
        """The platform has taken us: READY or RESUMED came."""
        self._outage.over()
        self._sick = 0

    async def _open(self) -> WatchedSocket:
        self._socket, first, now = None, not self._fresh, time.monotonic()
        self._made.append(now)
        if not self._resume:
            self._fresh.append(now)
        try:
            async with asyncio.timeout(CONNECT_S):
                return await WatchedSocket.from_client(self._client, initial=first, **self._resume)
        except (TimeoutError, OSError, aiohttp.ClientError):
            # The address for taking up a session may be gone while the session is not: next time the usual one.
            self._resume.pop("gateway", None)
            raise

    async def _listen(self, socket: WatchedSocket) -> None:
        listening = asyncio.create_task(_events(socket))
        watching = asyncio.create_task(socket.answers_no_more())
        try:
            await asyncio.wait((listening, watching), return_when=asyncio.FIRST_COMPLETED)
            if listening.done():
                listening.result()
            raise ReconnectWebSocket(None)
        finally:
            for task in (listening, watching):
                task.cancel()
            await asyncio.wait((listening, watching))
            with suppress(Exception):
                await socket.close(4000)

    def _lost(self, *, resume: bool) -> None:
        """Keep what is needed to take the session up again."""
        self._client.dispatch("disconnect")
        socket = self._socket
        if not resume:
            self._resume = {}
        elif socket is not None and socket.session_id is not None:
            self._resume = {
                "resume": True, "session": socket.session_id, "sequence": socket.sequence, "gateway": socket.gateway,
            }  # fmt: skip


async def _events(socket: WatchedSocket) -> None:
    while True:
        await socket.poll_event()


def _refused(code: int | None) -> str:
    if code == BAD_TOKEN:
        return startup_errors.token_refused()
    if code in BAD_INTENTS:
        return startup_errors.intents_refused()
    return startup_errors.odd_answer("the platform", f"gateway code {code}")

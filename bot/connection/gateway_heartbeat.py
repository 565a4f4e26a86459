"""One line on which events come in: a dead one is noticed, and garbage over it ends the line and not the program."""

import asyncio
import logging
from contextlib import suppress
from typing import Any, Final

import aiohttp
import discord
from discord.gateway import DiscordWebSocket, ReconnectWebSocket, WebSocketClosure

from bot.actions.core.fault_log import log_fault

log = logging.getLogger(__name__)

BEAT_S: Final = 10.0
"""How often we look whether the other side still answers."""
ECHO_S: Final = 8.0
"""How long its answer may take: a dead line is noticed in 18 s."""
SILENCE_S: Final = 25.0
"""After so long without a frame the line is dead, too."""
CLOSE_S: Final = 0.5
"""How long we wait for the other side to say good-bye."""


class UnreadableFrame(Exception):
    """Something came over the line that is no event."""


class WatchedSocket(DiscordWebSocket):
    """The chat library's socket; garbage ends the line, not the program, and closing it never takes long."""

    def __init__(self, socket: aiohttp.ClientWebSocketResponse, *, loop: asyncio.AbstractEventLoop) -> None:
        super().__init__(socket, loop=loop)
        socket._timeout = aiohttp.ClientWSTimeout(ws_close=CLOSE_S)

    async def received_message(self, msg: Any, /) -> None:
        """Read one frame.

        Raises:
            UnreadableFrame: it cannot be read; the line is closed.
        """
        try:
            await super().received_message(msg)
        except (ReconnectWebSocket, WebSocketClosure, discord.ConnectionClosed, aiohttp.ClientError, OSError):
            raise
        except Exception as error:  # noqa: BLE001 - whatever it was, a new line is made
            log_fault(log, "reading what the platform sent", error)
            await self.close(4000)
            raise UnreadableFrame from None

    async def answers_no_more(self) -> None:
        """Return when the other side has not echoed for too long."""
        # The library would set a timer for each frame to notice the same, later.
        self._max_heartbeat_timeout = 0.0
        while True:
            await asyncio.sleep(BEAT_S)
            alive = self._keep_alive
            if alive is None:
                continue
            before = alive._last_ack
            with suppress(discord.ConnectionClosed, OSError):
                await self.send_as_json(alive.beat())
            await asyncio.sleep(ECHO_S)
            if alive._last_ack == before:
                return

"""What an error of the connection means: what stands between us and the platform."""

import ssl
from typing import Final

import aiohttp
import discord

from bot.connection.reconnect_pauses import TOO_MANY
from bot.words.core.connection_log import Trouble

SERVER_ERROR = 500
KINDS: Final[tuple[tuple[tuple[type[BaseException], ...], Trouble], ...]] = (
    ((aiohttp.ClientProxyConnectionError, aiohttp.ClientHttpProxyError), "proxy"),
    ((aiohttp.ClientConnectorDNSError,), "dns"),
    ((aiohttp.ClientSSLError, ssl.SSLError), "tls"),
    ((TimeoutError,), "silent"),
    ((aiohttp.WSServerHandshakeError, discord.RateLimited, discord.GatewayNotFound), "busy"),
    ((aiohttp.ClientConnectionError, OSError), "away"),
    ((aiohttp.ClientError,), "odd"),
)
"""The first that fits."""


def trouble_of(error: BaseException) -> Trouble | None:
    """What stands between us and the platform; None for what no waiting mends."""
    if isinstance(error, discord.HTTPException):
        busy = error.status == TOO_MANY or error.status >= SERVER_ERROR
        return "busy" if busy or not _from_platform(error) else None
    return next((trouble for kinds, trouble in KINDS if isinstance(error, kinds)), None)


def _from_platform(error: discord.HTTPException) -> bool:
    """Whether the platform itself answered, and not something on the way, such as a school's filter."""
    return str(error.response.headers.get("Content-Type", "")).startswith("application/json")

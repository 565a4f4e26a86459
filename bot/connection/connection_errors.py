"""What an error of the connection means: what stands between us and the platform, and how long it asks us to wait."""

import ssl
from typing import Final

import aiohttp
import discord

from bot.words.core.connection_log import Trouble

SHUT_OUT_S, LONGEST_WISH_S = 60.0, 600.0
"""When we are told that we ask too often: the pause where none is named, and the longest that is believed."""
TOO_MANY, SERVER_ERROR = 429, 500
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


def wished_pause(error: BaseException) -> float:
    """How many seconds the other side asks us to wait; whoever comes back sooner is shut out for longer."""
    if isinstance(error, discord.RateLimited):
        return min(max(error.retry_after, 0.0), LONGEST_WISH_S)
    return SHUT_OUT_S if isinstance(error, discord.HTTPException) and error.status == TOO_MANY else 0.0


def trouble_of(error: BaseException) -> Trouble | None:
    """What stands between us and the platform; None for what no waiting mends."""
    if isinstance(error, discord.HTTPException):
        busy = error.status == TOO_MANY or error.status >= SERVER_ERROR
        return "busy" if busy or not _from_platform(error) else None
    return next((trouble for kinds, trouble in KINDS if isinstance(error, kinds)), None)


def _from_platform(error: discord.HTTPException) -> bool:
    """Whether the platform itself answered, and not something on the way, such as a school's filter."""
    return str(error.response.headers.get("Content-Type", "")).startswith("application/json")

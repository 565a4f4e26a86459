"""While the platform cannot be reached: one readable line when it begins, one now and then, one when it is over."""

import logging
import ssl
import time
from typing import Final

import aiohttp
import discord

from bot.words.core import startup_errors
from bot.words.core.startup_errors import Trouble

log = logging.getLogger(__name__)

REMIND_S: Final = 600.0
"""How often an outage that goes on is mentioned again."""
LONGEST_PAUSE_S: Final = 8.0
"""Never longer between two tries, so that we are back soon after the network is."""
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


class Outage:
    """Counts tries that failed and tells whoever reads the log, briefly."""

    def __init__(self, platform: str) -> None:
        """`platform` is how the platform is named in the log."""
        self._platform = platform
        self._failures = 0
        self._began = 0.0
        self._told = 0.0
        self._told_what: Trouble | None = None

    def failed(self, what: Trouble, at_least: float = 0.0) -> float:
        """Note a failed try; returns how many seconds to pause before the next, `at_least` so many."""
        now = time.monotonic()
        if not self._failures:
            self._began = now
        self._failures += 1
        if what != self._told_what or now > self._told + REMIND_S:
            log.warning("%s", startup_errors.cannot_reach(self._platform, what))
            self._told, self._told_what = now, what
        return max(at_least, min(0.5 * float(2 ** min(self._failures - 1, 10)), LONGEST_PAUSE_S))

    def over(self) -> None:
        """Note that it works again."""
        if self._failures:
            log.warning("%s", startup_errors.reached_again(self._platform, time.monotonic() - self._began))
        self._failures, self._told_what = 0, None


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

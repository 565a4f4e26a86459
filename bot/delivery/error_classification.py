"""What an error of the platform means for what was to be delivered."""

import math
from dataclasses import dataclass
from typing import Literal

import aiohttp
import discord

from bot.rules.delivery.backoff import LONGEST_WAIT_S, TOKEN_CHANGED_WAIT_S, UNNAMED_WAITS_S
from storage.file_errors import StorageFault

Meaning = Literal["later", "closed", "gone", "forbidden", "refused", "asleep", "deleted", "worn", "fault"]
"""`later`: try again. `closed`: no direct messages. `gone`: no such room. `deleted`: no such message (any more).
`asleep`: the private room is archived or locked. `worn`: this old message was edited too often. `forbidden` and
`refused`: never try this again. `fault`: a mistake of ours."""

TRANSPORT = (aiohttp.ClientError, OSError, TimeoutError, discord.DiscordServerError)
"""The request may or may not have been carried out. (`TimeoutError` is an `OSError`; it is named for the reader.)"""

NO_SUCH_ROOM, NO_PERMISSION, ARCHIVED, LOCKED = 10003, 50013, 50083, 160005
_CODES: dict[int, Meaning] = {
    NO_SUCH_ROOM: "gone",
    10008: "deleted",
    20016: "later",  # slow mode
    20028: "later",  # write limits of the channel and of the server
    20029: "later",
    30046: "worn",
    40003: "later",  # direct messages opened too fast
    50001: "forbidden",
    50007: "closed",
    NO_PERMISSION: "forbidden",
    50033: "closed",  # no such recipient
    ARCHIVED: "asleep",
    50278: "closed",  # no server in common
    LOCKED: "asleep",
}


@dataclass(frozen=True)
class Classification:
    """An error, understood."""

    meaning: Meaning
    why: str
    """For the record; holds nobody's words."""
    doubtful: bool = False
    """Whether the platform may have done it all the same."""
    wait: float | None = None
    """Seconds the platform asks us to wait."""


def classify(error: Exception, client: discord.Client) -> Classification:
    """What an error means; anything unknown is a fault of ours."""
    if isinstance(error, StorageFault):
        return Classification("later", "the database cannot be written", doubtful=True)
    if isinstance(error, discord.RateLimited):
        return Classification("later", "rate limit", wait=min(error.retry_after, LONGEST_WAIT_S))
    if isinstance(error, discord.DiscordServerError):
        return Classification("later", f"HTTP {error.status}", doubtful=True)
    if isinstance(error, discord.HTTPException):
        return _refused(error)
    if isinstance(error, TRANSPORT):
        return Classification("later", type(error).__name__, doubtful=True)
    if client.is_closed():
        return Classification("later", "shutting down", doubtful=True)
    return Classification("fault", type(error).__name__, doubtful=True)


def is_of_room(error: discord.HTTPException) -> bool:
    """Whether somebody cannot be let into a private room, or taken out, for a reason of the room's and not theirs."""
    return error.code in (NO_SUCH_ROOM, NO_PERMISSION)


def _refused(error: discord.HTTPException) -> Classification:
    why = f"HTTP {error.status}, code {error.code}"
    meaning = _CODES.get(error.code)
    if meaning is not None:
        return Classification(meaning, why, wait=UNNAMED_WAITS_S.get(error.code))
    if error.status == 429:
        return Classification("later", why, wait=_retry_after(error))
    if error.status >= 500:
        return Classification("later", why, doubtful=True)
    if error.status == 401:
        # The token was changed under us: nothing is lost, and a restart with the new one goes on.
        return Classification("later", why, wait=TOKEN_CHANGED_WAIT_S)
    if error.code == 0:
        # Not the platform's own answer, which always has a code, but one of an edge or a proxy on the way.
        return Classification("later", why)
    if error.status == 403:
        return Classification("forbidden", why)
    if error.status == 404:
        return Classification("gone", why)
    return Classification("refused", why)


def _retry_after(error: discord.HTTPException) -> float | None:
    try:
        asked = float(error.response.headers.get("Retry-After", ""))
        return min(max(asked, 0.0), LONGEST_WAIT_S) if math.isfinite(asked) else LONGEST_WAIT_S
    except ValueError:
        return None

"""The platform waits three seconds for an answer: whoever would have to wait longer is told in time that it comes."""

import asyncio
import logging
from collections.abc import Awaitable, Callable, Coroutine
from typing import Any, TypeVar

import aiohttp
import discord

from bot.actions.core.fault_log import log_fault
from bot.clock import Later
from bot.interactions.send_answer import SENDING_S, answer_without_echo

log = logging.getLogger(__name__)
T = TypeVar("T")

LATE_S = 1.8
"""After so long without an answer the person is told to wait; the rest of the three seconds is for the way there."""
LATE_FORM_S = 2.3
"""The same where the answer may be a form: one cannot follow a waiting note, so that it is given longer."""
TRIES = 2
"""How often somebody is told to wait where the platform does not take it."""


def told_after(*, writes: bool) -> float:
    """After how many seconds somebody is told to wait: what `writes` is never answered with a form."""
    return LATE_S if writes else LATE_FORM_S


async def answer_or_defer(
    work: Awaitable[T], later: Later, late_s: float, defer: Callable[[], Coroutine[Any, Any, None]]
) -> T:
    """Do the work, and `defer` once, when it has taken so many seconds by `later` and is not done."""
    deferring: asyncio.Task[None] | None = None

    def begin() -> None:
        nonlocal deferring
        deferring = asyncio.create_task(defer())

    withdraw = later(late_s, begin)
    try:
        found = await work
        if deferring is not None:
            await deferring
        return found
    finally:
        withdraw()
        if deferring is not None:
            deferring.cancel()


async def defer(interaction: discord.Interaction) -> None:
    """Tell the person to wait, unless that or the answer is out already.

    When the platform does not take it, once more, and then on all the same: whatever goes wrong here, the answer, which
    may tell of a change that is saved already, is still to be given.
    """
    answer_without_echo()
    for _ in range(TRIES):
        if interaction.response.is_done():
            return
        try:
            async with asyncio.timeout(SENDING_S):
                await interaction.response.defer(ephemeral=True, thinking=True)
            return
        except discord.HTTPException as refused:
            log.warning("could not ask to wait: %s (%s)", refused.status, refused.code)
            if refused.status < 500:
                return
        except (aiohttp.ClientError, OSError) as cut:
            log.warning("could not ask to wait: %s", type(cut).__name__)
        except Exception as error:  # noqa: BLE001 - such as an answer of the platform's that nobody can read
            log_fault(log, "asking to wait", error)
            return

"""The platform waits three seconds for an answer: whoever would have to wait longer is told in time that it comes."""

import asyncio
from collections.abc import Awaitable, Callable, Coroutine
from typing import Any, TypeVar

from bot.clock import Later

T = TypeVar("T")

LATE_S = 1.8
"""After so long without an answer the person is told to wait; the rest of the three seconds is for the way there."""
LATE_FORM_S = 2.3
"""The same where the answer may be a form: one cannot follow a waiting note, so that it is given longer."""


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

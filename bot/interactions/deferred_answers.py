"""The platform waits three seconds for an answer: whoever would have to wait longer is told in time that it comes."""

import asyncio
from collections.abc import Awaitable, Callable, Coroutine
from typing import Any, TypeVar

T = TypeVar("T")


async def answer_or_defer(
    work: Coroutine[Any, Any, T],
    pause: Callable[[float], Awaitable[None]],
    late_s: float,
    defer: Callable[[], Awaitable[None]],
) -> T:
    """Do the work, and `defer` once, when it has taken so many seconds by `pause` and is not done."""
    late = False

    async def watch() -> None:
        nonlocal late
        await pause(late_s)
        late = True
        await defer()

    watching = asyncio.create_task(watch())
    try:
        found = await work
        if late:
            await watching
        return found
    finally:
        watching.cancel()

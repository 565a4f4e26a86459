"""The orderly end: newcomers are told, what is begun is finished, nobody is forgotten."""

import asyncio
import time
from collections.abc import Callable

from bot.interactions.answers_first import InFlight

FINISH_S = 2.0
"""How long what has been begun may take once the end has begun; the platform waits three seconds for an answer."""
TELL_S = 0.5
"""How long it may then take to tell whoever could not be dealt with any more."""
QUIET_S = 0.3
"""So long nobody may have come before we hang up: events may still be on their way through the socket."""
LOOK_S = 0.01


async def drain(in_flight: InFlight) -> None:
    """Take nothing new, let what was begun come to its answer, then have the rest told; three seconds at most."""
    began = time.monotonic()
    in_flight.shut()

    def calm() -> bool:
        return not in_flight.count and time.monotonic() > max(began, in_flight.began_last) + QUIET_S

    await _until(calm, began + FINISH_S)
    in_flight.cut_short()
    await _until(lambda: not in_flight.count, began + FINISH_S + TELL_S)


async def _until(so: Callable[[], bool], end: float) -> None:
    """Wait until something is so, or until the machine's monotonic clock shows `end`."""
    while True:
        if so() or time.monotonic() > end:
            return
        await asyncio.sleep(LOOK_S)

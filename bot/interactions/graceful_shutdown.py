"""Who waits for an answer, and the orderly end: newcomers are told, what is begun is finished, nobody is forgotten."""

import asyncio
import time
from collections.abc import Callable, Coroutine, Iterator
from contextlib import contextmanager, suppress
from typing import Any, TypeVar

from bot.rules.core.answer_time_limits import PLATFORM_WAITS_S
from bot.rules.core.shutdown_time_limits import FINISH_S, QUIET_S, TELL_S

T = TypeVar("T")

LOOK_S = 0.01


class Stopping(Exception):
    """The program is about to end, and this was not dealt with."""

    def __init__(self, begun: bool = False) -> None:
        self.begun = begun
        """Whether it had been begun; it is then most likely, but not surely, undone."""


class InFlight:
    """Counts what has come in and is not answered yet, and lets it run out when the program ends."""

    def __init__(self) -> None:
        self.count = 0
        """Interactions and typed messages that have come in and have not been answered yet."""
        self._closed = False
        self._began_last = 0.0
        self._opened = asyncio.Event()
        self._answered = asyncio.Event()
        self._answered.set()
        self._unanswered = 0
        self._all_out = asyncio.Event()
        """Nobody's answer is still to be found; at most the platform is waited for."""
        self._all_out.set()
        self._cut: asyncio.Future[None] | None = None

    @property
    def closed(self) -> bool:
        """Whether the end has begun."""
        return self._closed

    def open(self) -> None:
        """Begin to deal with what comes; whoever came before this waits."""
        self._opened.set()

    @contextmanager
    def counted(self) -> Iterator[Callable[[], None]]:
        """Count something from here to its answer; what this gives is called when the answer is about to go out."""
        self.count += 1
        self._unanswered += 1
        self._answered.clear()
        self._all_out.clear()
        self._began_last = time.monotonic()
        found = False

        def out() -> None:
            nonlocal found
            if not found:
                found = True
                self._unanswered -= 1
                if not self._unanswered:
                    self._all_out.set()

        def soon() -> None:
            # The bytes go out in the turn of the loop after the one in which that is asked for.
            asyncio.get_running_loop().call_soon(out)

        try:
            yield soon
        finally:
            out()
            self.count -= 1
            if not self.count:
                self._answered.set()

    async def answered(self) -> None:
        """Wait until nobody waits for an answer."""
        await self._answered.wait()

    async def answers_out(self) -> None:
        """Wait until everybody's answer is on its way, but no longer than the platform waits for one."""
        await _in_time(self._all_out)

    async def answers_first(self) -> None:
        """Wait until nobody waits for an answer, but no longer than the platform waits for one."""
        await _in_time(self._answered)

    async def deal(self, work: Coroutine[Any, Any, T]) -> T:
        """Do some work once we are open.

        Raises:
            Stopping: the end has begun, or came before the work was done.
        """
        if not self.closed:
            await self._opened.wait()
        if self.closed:
            work.close()
            raise Stopping
        self._cut = self._cut or asyncio.get_running_loop().create_future()
        task = asyncio.create_task(work)
        try:
            await asyncio.wait((task, self._cut), return_when=asyncio.FIRST_COMPLETED)
        except asyncio.CancelledError:
            task.cancel()
            raise
        if task.done():
            return task.result()
        # Not waited for: the person's three seconds may be over before the database lets go.
        task.cancel()
        raise Stopping(begun=True)

    async def drain(self) -> None:
        """Take nothing new, let what was begun come to its answer, then have the rest told; three seconds at most."""
        self._closed = True
        began = time.monotonic()
        self._opened.set()
        await _until(lambda: self._calm(began), began + FINISH_S)
        if self._cut is not None:
            self._cut.set_result(None)
        await _until(lambda: not self.count, began + FINISH_S + TELL_S)

    def _calm(self, since: float) -> bool:
        return not self.count and time.monotonic() > max(since, self._began_last) + QUIET_S


async def _in_time(event: asyncio.Event) -> None:
    if event.is_set():
        return
    with suppress(TimeoutError):
        async with asyncio.timeout(PLATFORM_WAITS_S):
            await event.wait()


async def _until(so: Callable[[], bool], end: float) -> None:
    """Wait until something is so, or until the machine's monotonic clock shows `end`."""
    while True:
        if so() or time.monotonic() > end:
            return
        await asyncio.sleep(LOOK_S)

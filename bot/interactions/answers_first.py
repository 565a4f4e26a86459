"""Who waits for an answer is counted, and what can wait lets answers go first, but not for ever."""

import asyncio
import time
from collections.abc import Callable, Coroutine, Iterator
from contextlib import contextmanager, suppress
from typing import Any, TypeVar

T = TypeVar("T")

PLATFORM_WAITS_S = 3.0
"""How long the platform waits for an answer; what can wait lets answers go first for so long."""


class Stopping(Exception):
    """The program is about to end, and this was not begun."""


Cut = Callable[[], Coroutine[Any, Any, None]]
"""Tells whoever waits that what was begun for them could not be finished."""


class _Waiting:
    """Somebody whose answer is still to be found, and the task that is at it."""

    def __init__(self, cut: Cut | None) -> None:
        self.cut = cut
        self.task = asyncio.current_task()
        self.counts = True


class InFlight:
    """Counts what has come in and is not answered yet, and ends what is left when the program does."""

    def __init__(self) -> None:
        self.count = 0
        """Interactions and typed messages that have come in and have not been answered yet."""
        self._closed = False
        self.began_last = 0.0
        """When the last of them came, by the machine's monotonic clock."""
        self._busy_since = 0.0
        """Since when somebody has been waiting for an answer, though not always the same."""
        self._opened = asyncio.Event()
        self._answered = asyncio.Event()
        self._answered.set()
        self._unanswered: set[_Waiting] = set()
        self._all_out = asyncio.Event()
        """Nobody's answer is still to be found; at most the platform is waited for."""
        self._all_out.set()
        self._telling: set[asyncio.Task[None]] = set()

    @property
    def closed(self) -> bool:
        """Whether the end has begun."""
        return self._closed

    def open(self) -> None:
        """Begin to deal with what comes; whoever came before this waits."""
        self._opened.set()

    @contextmanager
    def counted(self, cut: Cut | None = None) -> Iterator[Callable[[], None]]:
        """Count something from here to its answer; what this gives is called when the answer is about to go out.

        Where that is not so in time before the end, this task is cancelled, and `cut` tells whoever waits.
        """
        one = _Waiting(cut)
        if not self.count:
            self._busy_since = time.monotonic()
        self.count += 1
        self._unanswered.add(one)
        self._answered.clear()
        self._all_out.clear()
        self.began_last = time.monotonic()

        def out() -> None:
            one.cut = None
            # The bytes go out in the turn of the loop after the one in which that is asked for.
            asyncio.get_running_loop().call_soon(self._out, one)

        try:
            yield out
        finally:
            self._over(one)

    def _out(self, one: _Waiting) -> None:
        self._unanswered.discard(one)
        if not self._unanswered:
            self._all_out.set()

    def _over(self, one: _Waiting) -> None:
        self._out(one)
        if one.counts:
            one.counts = False
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
        """Wait until nobody waits for an answer; not where there has been somebody for as long as the platform waits.

        While one press follows the other nobody who asks this has to wait again and again.
        """
        await _in_time(self._answered, self._busy_since + PLATFORM_WAITS_S - time.monotonic())

    async def deal(self, work: Coroutine[Any, Any, T]) -> T:
        """Do some work once we are open.

        Raises:
            Stopping: the end came before that.
        """
        if not self.closed:
            await self._opened.wait()
        if self.closed:
            work.close()
            raise Stopping
        return await work

    def shut(self) -> None:
        """Take nothing new from now on."""
        self._closed = True
        self._opened.set()

    def cut_short(self) -> None:
        """Give up whatever is not about to be answered, and have whoever waits for it told."""
        for one in [*self._unanswered]:
            if one.cut is not None and one.task is not None:
                # Not waited for: the person's three seconds may be over before the database lets go.
                one.task.cancel()
                self._telling.add(asyncio.create_task(self._tell(one.cut)))
                self._over(one)

    async def _tell(self, cut: Cut) -> None:
        with self.counted():
            await cut()


async def _in_time(event: asyncio.Event, seconds: float = PLATFORM_WAITS_S) -> None:
    if event.is_set() or seconds <= 0:
        return
    with suppress(TimeoutError):
        async with asyncio.timeout(seconds):
            await event.wait()

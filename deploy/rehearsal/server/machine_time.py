"""Seconds by which a bot is judged: those of the wall, less those in which the machine kept it waiting for a processor.

A try-out that is rehearsed beside busy programs must not fail because of them, and a slow bot must still be caught. How
long a thread that could run was not allowed to is counted by Linux for each thread (`/proc/PID/task/TID/schedstat`,
second number, in nanoseconds). Where the system does not tell, these are plain seconds.
"""

from __future__ import annotations

import asyncio
import os
import time
from collections.abc import Awaitable
from pathlib import Path

LEAST_WAIT_S = 0.005
LOOK_EVERY_S = 0.05
"""How often the system is asked at most: asking costs a file for each thread, and this clock is read all the time."""


class MachineTime:
    """A clock that stands still for as long as the watched processes are kept from running; it never goes back."""

    def __init__(self, processes: Path = Path("/proc")) -> None:
        """Watch this process; `processes` is where the system tells of them."""
        self._processes = processes
        self._watched = {os.getpid()}
        self._held_up: dict[tuple[int, str], int] = {}
        self._real = time.monotonic()
        self._seconds = 0.0
        self._told = 0.0
        self._read()

    def watch(self, pid: int) -> None:
        """Watch one more process, such as the bot's."""
        self._watched.add(pid)

    def forget(self, pid: int) -> None:
        """Watch a process no longer: it has ended."""
        self._watched.discard(pid)
        self._held_up = {thread: spent for thread, spent in self._held_up.items() if thread[0] != pid}

    def now(self) -> float:
        """Return the seconds that count since this clock was made; at most `LOOK_EVERY_S` too many."""
        real = time.monotonic()
        passed = real - self._real
        if passed >= LOOK_EVERY_S:
            self._seconds += max(0.0, passed - self._read())
            self._real, passed = real, 0.0
        self._told = max(self._told, self._seconds + passed)
        return self._told

    async def within(self, seconds: float, work: Awaitable[object]) -> bool:
        """Wait for `work`, for so many seconds that count; returns whether it was done, and else cancels it.

        Whatever `work` raises in that time is raised here.
        """
        end = self.now() + seconds
        loop = asyncio.get_running_loop()
        timer: asyncio.TimerHandle

        def look() -> None:
            nonlocal timer
            left = end - self.now()
            if left > 0:
                timer = loop.call_later(max(left, LEAST_WAIT_S), look)
            else:
                limit.reschedule(loop.time())

        timer = loop.call_later(max(seconds, 0.0), look)
        limit = asyncio.timeout(None)
        try:
            async with limit:
                await work
        except TimeoutError:
            if limit.expired():
                return False
            raise
        finally:
            timer.cancel()
        return True

    async def sleep(self, seconds: float) -> None:
        """Sleep for so many seconds that count."""
        await self.within(seconds, asyncio.Event().wait())

    def _read(self) -> float:
        """Return for how many seconds watched threads were kept waiting since the last reading, all together."""
        more = 0
        for pid in self._watched:
            for thread, spent in _waited_ns(f"{self._processes}/{pid}/task").items():
                more += max(0, spent - self._held_up.get((pid, thread), 0))
                self._held_up[pid, thread] = spent
        return more / 1e9


def _waited_ns(threads: str) -> dict[str, int]:
    """Read for each thread how long it has waited for a processor, in nanoseconds; nothing where that is not told."""
    # Paths as texts and files without buffers: this reads ten thousand files in a season.
    found: dict[str, int] = {}
    try:
        for thread in os.listdir(threads):  # noqa: PTH208
            file = os.open(f"{threads}/{thread}/schedstat", os.O_RDONLY)
            try:
                found[thread] = int(os.read(file, 100).split()[1])
            finally:
                os.close(file)
    except (OSError, ValueError, IndexError):
        return found
    return found

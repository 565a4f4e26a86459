"""Turns for what takes much memory, files that people send and those that answers carry: few at once, one a person."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from weakref import WeakValueDictionary


class Turns:
    """Lets a few in at a time; somebody who presses a hundred times stands in the line once."""

    def __init__(self, at_once: int) -> None:
        self._free = asyncio.Semaphore(at_once)
        self._mine: WeakValueDictionary[int, asyncio.Lock] = WeakValueDictionary()

    @asynccontextmanager
    async def turn(self, who: int) -> AsyncIterator[None]:
        """Wait until it is this person's turn; it lasts until what was made or fetched is done with."""
        mine = self._mine.setdefault(who, asyncio.Lock())
        async with mine, self._free:
            yield

"""How many files are held in the memory at once, those that people send and those that answers carry: few."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from weakref import WeakValueDictionary

UPLOADS_AT_ONCE = 4
"""So many people's files at a time, from the first byte until they are dealt with: pictures are made small one after
the other, and a whole class in the last minute must not wait in the memory."""
CARRIED_AT_ONCE = 3
"""So many answers with files at a time, until the platform has them: one may hold ten photos of two million bytes."""


class FewAtOnce:
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

"""The two ways to a connection: a hop a call to its thread, or in its own thread, where work is done in one go."""

import asyncio
import sqlite3
from collections.abc import Awaitable, Callable, Coroutine
from typing import Any, Concatenate, ParamSpec, Protocol, TypeVar

import aiosqlite

P = ParamSpec("P")
T = TypeVar("T")
Call = Callable[Concatenate[sqlite3.Connection, P], T]
"""Uses a connection; run in its thread."""


class Access(Protocol):
    """Runs functions that use a connection."""

    async def run(self, function: Call[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Run a function in the connection's thread."""

    async def surely(self, function: Call[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """The same, and to its end even when whoever waits for it is cancelled."""


class FromLoop:
    """From the event loop: each call is a hop to the connection's thread and back."""

    def __init__(self, connection: aiosqlite.Connection) -> None:
        self._connection = connection

    async def run(self, function: Call[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Run a function in the connection's thread; a cancelled await does not stop it."""
        # As every method of the library does; it has no public name for it.
        hop: Callable[..., Awaitable[T]] = self._connection._execute
        return await hop(function, self._connection._conn, *args, **kwargs)

    async def surely(self, function: Call[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """The same, and to its end even when whoever waits for it is cancelled."""
        return await asyncio.shield(self.run(function, *args, **kwargs))


class InThread:
    """In the connection's thread: a call is made at once, and no await of it ever waits."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    async def run(self, function: Call[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Call it."""
        return function(self._connection, *args, **kwargs)

    surely = run


def in_one_go(work: Coroutine[Any, Any, T]) -> T:
    """Do work that awaits nothing but `InThread`, and so never waits, in the thread that asks.

    Raises:
        RuntimeError: it does wait for something else, which a transaction must not: everybody waits for its end.
    """
    try:
        work.send(None)
    except StopIteration as done:
        result: T = done.value
        return result
    work.close()
    raise RuntimeError("a transaction waited for something else than the database")

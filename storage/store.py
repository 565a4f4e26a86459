"""The one SQLite file: one writer, whose transactions share commits, and snapshot readers.

Readers are read-only connections and see the file as it was when they began.

`write` and `read` are for blocks that also wait for other things; each of their statements is a hop to the connection's
thread and back. `transact` does all of its work over there, in one hop, which those who wait for it share: a commit
waits for the disk. Reading does not, and mostly takes less than the hop would: `look` does it where it is asked for;
`look_beside`, for much of it, beside the event loop.
"""

import asyncio
import logging
import secrets
import sqlite3
from collections.abc import AsyncIterator, Callable, Coroutine
from contextlib import AbstractAsyncContextManager, AsyncExitStack, asynccontextmanager
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import quote

import aiosqlite

from storage.database_thread import FromLoop, InThread, in_one_go
from storage.file_errors import StorageFault, as_faults
from storage.group_commit import GroupCommit
from storage.private_files import tighten
from storage.tables.sql_session import Snapshot, Transaction

__all__ = ["StorageFault", "Store"]

# Its lines for debugging quote every value that is written.
logging.getLogger("aiosqlite").setLevel(logging.INFO)

T = TypeVar("T")

READERS = 2
"""Connections that only read, each lent to one task at a time."""
BUSY_MS = 5000
"""How long a connection waits for a lock that somebody else holds, in milliseconds."""
CACHED_STATEMENTS = 256
"""How many statements a connection keeps prepared."""
PRAGMAS = (
    "journal_mode = WAL",
    "synchronous = FULL",
    "foreign_keys = ON",
    f"busy_timeout = {BUSY_MS}",
    "secure_delete = ON",
    "temp_store = MEMORY",
)
"""How the writer works: nothing acknowledged is lost with the power, nothing erased can be read in the file, and the
pages to which a savepoint could go back are kept in memory: each would cost two more writes, to a temporary file.
"""


class Store:
    """The open database. Made by `Store.open`."""

    def __init__(
        self, writer: aiosqlite.Connection, readers: list[aiosqlite.Connection], looker: sqlite3.Connection
    ) -> None:
        self._writer = writer
        self._looker = looker
        self._group_commit = GroupCommit(FromLoop(writer), secrets.token_bytes)
        self._readers: asyncio.Queue[FromLoop] = asyncio.Queue()
        for reader in readers:
            self._readers.put_nowait(FromLoop(reader))

    @classmethod
    @asynccontextmanager
    async def open(
        cls,
        path: Path,
        readers: int = READERS,
        *,
        durable: bool = True,
        trace: Callable[[str], None] | None = None,
        connect: Callable[..., aiosqlite.Connection] = aiosqlite.connect,
    ) -> AsyncIterator["Store"]:
        """Open a migrated database file; close everything at the end.

        `durable=False` is for tests that need not outlive a power cut: SQLite then does not wait for the disk.
        `trace` gets the text of every statement that is run, for counting them. `connect` makes the connections.

        Raises:
            StorageFault: it could not be opened.
        """
        async with AsyncExitStack() as stack:
            with as_faults():
                tighten(path)
                writer = await _connect(stack, connect, str(path))
                for pragma in PRAGMAS if durable else (*PRAGMAS, "synchronous = OFF"):
                    await writer.execute(f"PRAGMA {pragma}")
                read_only = f"file:{quote(str(path))}?mode=ro"
                lent = [await _connect(stack, connect, read_only) for _ in range(readers)]
                looker = sqlite3.connect(read_only, uri=True, isolation_level=None, cached_statements=CACHED_STATEMENTS)
                stack.callback(looker.close)
                looker.row_factory = sqlite3.Row
                looker.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
            if trace is not None:
                for connection in (writer, *lent):
                    await connection.set_trace_callback(trace)
                looker.set_trace_callback(trace)
            store = cls(writer, lent, looker)
            try:
                yield store
            finally:
                await asyncio.shield(store._group_commit.finish())

    def on_commit(self, listener: Callable[[], None]) -> None:
        """Call `listener` after every committed transaction."""
        self._group_commit.listeners.append(listener)

    def keys_from(self, random_bytes: Callable[[int], bytes]) -> None:
        """Have keys made of these bytes, and not of the machine's secrets."""
        self._group_commit.random_bytes = random_bytes

    def write(self) -> AbstractAsyncContextManager[Transaction]:
        """One transaction; on the disk at the end, or undone when anything is raised.

        Raises:
            StorageFault: the file could not be written.
        """
        return self._group_commit.write()

    async def transact(self, work: Callable[[Transaction], Coroutine[Any, Any, T]]) -> T:
        """The same for work that awaits nothing but the database: all of it is done in one hop.

        It runs in the connection's thread, and so beside the event loop, of which it must not use anything.

        Raises:
            StorageFault: the file could not be written.
        """
        return await self._group_commit.transact(work)

    @asynccontextmanager
    async def read(self) -> AsyncIterator[Snapshot]:
        """One read-only snapshot of the file.

        Raises:
            StorageFault: the file could not be read.
        """
        reader = await self._readers.get()
        try:
            await reader.run(_execute, "BEGIN")
            yield Snapshot(reader)
        except sqlite3.Error as error:
            raise StorageFault(str(error)) from error
        finally:
            await asyncio.shield(self._give_back(reader))

    async def _give_back(self, reader: FromLoop) -> None:
        try:
            await reader.run(sqlite3.Connection.rollback)
        finally:
            self._readers.put_nowait(reader)

    async def look(self, work: Callable[[Snapshot], Coroutine[Any, Any, T]]) -> T:
        """The same for work that awaits nothing but the database: all of it is done at once, without a hop.

        Raises:
            StorageFault: the file could not be read.
        """
        try:
            return _look(self._looker, work)
        except sqlite3.Error as error:
            raise StorageFault(str(error)) from error

    async def look_beside(self, work: Callable[[Snapshot], Coroutine[Any, Any, T]]) -> T:
        """The same for work that reads much, such as all marks of a large class: beside the event loop, in one hop.

        Raises:
            StorageFault: the file could not be read.
        """
        reader = await self._readers.get()
        try:
            return await reader.run(_look, work)
        except sqlite3.Error as error:
            raise StorageFault(str(error)) from error
        finally:
            # Whoever was cancelled may leave it at work: what comes next queues behind that.
            self._readers.put_nowait(reader)


def _execute(connection: sqlite3.Connection, sql: str) -> None:
    connection.execute(sql)


def _look(connection: sqlite3.Connection, work: Callable[[Snapshot], Coroutine[Any, Any, T]]) -> T:
    connection.execute("BEGIN")
    try:
        return in_one_go(work(Snapshot(InThread(connection))))
    finally:
        connection.rollback()


async def _connect(
    stack: AsyncExitStack, connect: Callable[..., aiosqlite.Connection], where: str
) -> aiosqlite.Connection:
    connection = await stack.enter_async_context(
        connect(where, uri=where.startswith("file:"), isolation_level=None, cached_statements=CACHED_STATEMENTS)
    )
    connection.row_factory = sqlite3.Row
    await connection.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
    return connection

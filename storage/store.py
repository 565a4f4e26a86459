"""The one SQLite file: one locked writer, snapshot readers.

Two tasks on one aiosqlite connection would share a transaction, so writers take turns behind a lock; readers are
read-only connections, each lent to one task at a time, and see the file as it was when they began.
"""

import asyncio
import secrets
import sqlite3
from collections.abc import AsyncIterator, Callable
from contextlib import AsyncExitStack, asynccontextmanager
from pathlib import Path
from urllib.parse import quote

import aiosqlite

from storage.faults import StorageFault, as_faults
from storage.private_files import tighten
from storage.tables.sql_session import Snapshot, Transaction

__all__ = ["StorageFault", "Store"]

PRAGMAS = ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "busy_timeout = 5000", "secure_delete = ON")
"""How the writer works: nothing acknowledged is lost with the power, and nothing erased can be read in the file."""


class Store:
    """The open database. Made by `Store.open`."""

    def __init__(self, writer: aiosqlite.Connection, readers: list[aiosqlite.Connection]) -> None:
        self._writer = writer
        self._turn = asyncio.Lock()
        self._readers: asyncio.Queue[aiosqlite.Connection] = asyncio.Queue()
        for reader in readers:
            self._readers.put_nowait(reader)
        self._listeners: list[Callable[[], None]] = []
        self.random_bytes: Callable[[int], bytes] = secrets.token_bytes
        """Where keys come from."""

    @classmethod
    @asynccontextmanager
    async def open(cls, path: Path, readers: int = 2, *, durable: bool = True) -> AsyncIterator["Store"]:
        """Open a migrated database file; close everything at the end.

        `durable=False` is for tests that need not outlive a power cut: SQLite then does not wait for the disk.

        Raises:
            StorageFault: it could not be opened.
        """
        async with AsyncExitStack() as stack:
            with as_faults():
                tighten(path)
                writer = await stack.enter_async_context(aiosqlite.connect(path, isolation_level=None))
                writer.row_factory = sqlite3.Row
                for pragma in PRAGMAS if durable else (*PRAGMAS, "synchronous = OFF"):
                    await writer.execute(f"PRAGMA {pragma}")
                lent = []
                uri = f"file:{quote(str(path))}?mode=ro"
                for _ in range(readers):
                    reader = await stack.enter_async_context(aiosqlite.connect(uri, uri=True, isolation_level=None))
                    reader.row_factory = sqlite3.Row
                    await reader.execute("PRAGMA busy_timeout = 5000")
                    lent.append(reader)
            yield cls(writer, lent)

    def on_commit(self, listener: Callable[[], None]) -> None:
        """Call `listener` after every committed transaction."""
        self._listeners.append(listener)

    @asynccontextmanager
    async def write(self) -> AsyncIterator[Transaction]:
        """One transaction; committed at the end, rolled back when anything is raised.

        Raises:
            StorageFault: the file could not be written.
        """
        async with self._turn:
            try:
                await self._writer.execute("BEGIN IMMEDIATE")
                yield Transaction(self._writer, self.random_bytes)
                await self._writer.commit()
            except BaseException as error:
                # A cancelled await still runs its SQL; the rollback queues behind it and must not be cancelled.
                await asyncio.shield(self._rollback())
                if isinstance(error, sqlite3.Error):
                    raise StorageFault(str(error)) from error
                raise
        for listener in self._listeners:
            listener()

    async def _rollback(self) -> None:
        try:
            await self._writer.rollback()
        except sqlite3.Error:
            # The first error is the one to tell; SQLite has then rolled back by itself.
            return

    @asynccontextmanager
    async def read(self) -> AsyncIterator[Snapshot]:
        """One read-only snapshot of the file.

        Raises:
            StorageFault: the file could not be read.
        """
        reader = await self._readers.get()
        try:
            await reader.execute("BEGIN")
            yield Snapshot(reader)
        except sqlite3.Error as error:
            raise StorageFault(str(error)) from error
        finally:
            await asyncio.shield(self._give_back(reader))

    async def _give_back(self, reader: aiosqlite.Connection) -> None:
        try:
            await reader.rollback()
        finally:
            self._readers.put_nowait(reader)

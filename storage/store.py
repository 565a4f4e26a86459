"""The one SQLite file: one writer, snapshot readers, and commits that are shared.

Waiting for the disk is what takes long, and only a commit does it. Transactions whose turn comes before the commit
share it (group commit), each in a savepoint of its own. Nobody is told that something is done before the commit that
holds it is on the disk.

Readers are read-only connections, each lent to one task at a time, and see the file as it was when they began.
"""

import asyncio
import logging
import secrets
import sqlite3
from collections.abc import AsyncIterator, Callable
from contextlib import AsyncExitStack, asynccontextmanager
from pathlib import Path
from urllib.parse import quote

import aiosqlite

from storage.faults import StorageFault, as_faults
from storage.private_files import tighten
from storage.tables.sql_session import OUTER, Snapshot, Transaction

__all__ = ["StorageFault", "Store"]

PRAGMAS = ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "busy_timeout = 5000", "secure_delete = ON")
"""How the writer works: nothing acknowledged is lost with the power, and nothing erased can be read in the file."""


# Its lines for debugging quote every value that is written.
logging.getLogger("aiosqlite").setLevel(logging.INFO)


class _Group:
    """Transactions that are committed together."""

    def __init__(self) -> None:
        self.over = asyncio.Event()
        """Committed, or failed."""
        self.failed = ""
        """Why none of them was kept."""

    def fail(self, error: BaseException) -> None:
        """None of them is kept; whoever waits is told why."""
        self.failed = str(error) or type(error).__name__
        self.over.set()


class Store:
    """The open database. Made by `Store.open`."""

    def __init__(self, writer: aiosqlite.Connection, readers: list[aiosqlite.Connection]) -> None:
        self._writer = writer
        self._turn = asyncio.Lock()
        self._group: _Group | None = None
        self._committing: asyncio.Task[None] | None = None
        self._readers: asyncio.Queue[aiosqlite.Connection] = asyncio.Queue()
        for reader in readers:
            self._readers.put_nowait(reader)
        self._listeners: list[Callable[[], None]] = []
        self.random_bytes: Callable[[int], bytes] = secrets.token_bytes
        """Where keys come from."""

    @classmethod
    @asynccontextmanager
    async def open(
        cls, path: Path, readers: int = 2, *, durable: bool = True, trace: Callable[[str], None] | None = None
    ) -> AsyncIterator["Store"]:
        """Open a migrated database file; close everything at the end.

        `durable=False` is for tests that need not outlive a power cut: SQLite then does not wait for the disk.
        `trace` gets the text of every statement that is run, for counting them.

        Raises:
            StorageFault: it could not be opened.
        """
        async with AsyncExitStack() as stack:
            with as_faults():
                tighten(path)
                writer = await _connect(stack, str(path))
                for pragma in PRAGMAS if durable else (*PRAGMAS, "synchronous = OFF"):
                    await writer.execute(f"PRAGMA {pragma}")
                lent = [await _connect(stack, f"file:{quote(str(path))}?mode=ro") for _ in range(readers)]
            if trace is not None:
                for connection in (writer, *lent):
                    await connection.set_trace_callback(trace)
            store = cls(writer, lent)
            try:
                yield store
            finally:
                await asyncio.shield(store._finish())

    def on_commit(self, listener: Callable[[], None]) -> None:
        """Call `listener` after every committed transaction."""
        self._listeners.append(listener)

    @asynccontextmanager
    async def write(self) -> AsyncIterator[Transaction]:
        """One transaction; on the disk at the end, or undone when anything is raised.

        Raises:
            StorageFault: the file could not be written.
        """
        async with self._turn:
            group = self._group or await self._begin()
            try:
                # Not released when all is well: the commit of the group keeps what is in every savepoint.
                await self._writer.execute(f"SAVEPOINT {OUTER}")
                yield Transaction(self._writer, self.random_bytes)
            except BaseException as error:
                # A cancelled await still runs its SQL; what undoes it queues behind it and must not be cancelled.
                await asyncio.shield(self._undo(group))
                if isinstance(error, sqlite3.Error):
                    raise StorageFault(str(error)) from error
                raise
        try:
            await group.over.wait()
        except asyncio.CancelledError:
            # Whoever cancelled this goes by what the file then holds.
            await group.over.wait()
            raise
        if group.failed:
            raise StorageFault(group.failed)
        for listener in self._listeners:
            listener()

    async def _begin(self) -> _Group:
        """Begin a group, and have it committed once everybody whose turn it was before then is done."""
        try:
            await self._writer.execute("BEGIN IMMEDIATE")
        except BaseException as error:
            await asyncio.shield(self._roll_back())
            if isinstance(error, sqlite3.Error):
                raise StorageFault(str(error)) from error
            raise
        self._group = group = _Group()
        self._committing = asyncio.create_task(self._commit(group), name="commit")
        return group

    async def _commit(self, group: _Group) -> None:
        async with self._turn:
            if group.failed:
                return
            self._group = None
            try:
                await self._writer.commit()
            except BaseException as error:
                await asyncio.shield(self._roll_back())
                group.fail(error)
                if not isinstance(error, sqlite3.Error):
                    raise
            group.over.set()

    async def _undo(self, group: _Group) -> None:
        """Undo the transaction whose turn it is; where SQLite undid the whole group (a full disk), that has failed."""
        try:
            await self._writer.execute(f"ROLLBACK TO {OUTER}")
            await self._writer.execute(f"RELEASE {OUTER}")
        except sqlite3.Error as error:
            await self._roll_back()
            self._group = None
            group.fail(error)

    async def _roll_back(self) -> None:
        try:
            await self._writer.rollback()
        except sqlite3.Error:
            # The first error is the one to tell; SQLite has then rolled back by itself.
            return

    async def _finish(self) -> None:
        if self._committing is not None:
            await self._committing

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


async def _connect(stack: AsyncExitStack, where: str) -> aiosqlite.Connection:
    connection = await stack.enter_async_context(
        aiosqlite.connect(where, uri=where.startswith("file:"), isolation_level=None, cached_statements=256)
    )
    connection.row_factory = sqlite3.Row
    await connection.execute("PRAGMA busy_timeout = 5000")
    return connection

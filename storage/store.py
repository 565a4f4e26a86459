"""The one SQLite file: one writer, snapshot readers, and commits that are shared.

Statements run on the event loop itself: a statement takes some 20 microseconds, and handing it to another thread and
back takes several times that. Waiting for the disk is what takes long, and only a commit does: it is made in a thread.
Transactions whose turn comes before it share it (group commit), each in a savepoint of its own. Nobody is told that
something is done before the commit that holds it is on the disk.

Readers are read-only connections, each lent to one task at a time, and see the file as it was when they began.
"""

import asyncio
import secrets
import sqlite3
from collections.abc import AsyncIterator, Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from pathlib import Path
from urllib.parse import quote

from storage.faults import StorageFault, as_faults
from storage.private_files import tighten
from storage.tables.sql_session import Snapshot, Transaction

__all__ = ["StorageFault", "Store"]

PRAGMAS = ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "secure_delete = ON")
"""How the writer works: nothing acknowledged is lost with the power, and nothing erased can be read in the file."""
BUSY_S = 5.0
"""How long we wait for another program that writes into the file, such as SQLite's own shell."""
AGAIN_S = 0.05


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

    def __init__(self, writer: sqlite3.Connection, readers: list[sqlite3.Connection], disk: ThreadPoolExecutor) -> None:
        self._writer = writer
        self._disk = disk
        self._turn = asyncio.Lock()
        self._group: _Group | None = None
        self._committing: asyncio.Task[None] | None = None
        self._readers: asyncio.Queue[sqlite3.Connection] = asyncio.Queue()
        for reader in readers:
            self._readers.put_nowait(reader)
        self._listeners: list[Callable[[], None]] = []
        self.random_bytes: Callable[[int], bytes] = secrets.token_bytes
        """Where keys come from."""

    @classmethod
    @asynccontextmanager
    async def open(
        cls, path: Path, readers: int = 2, *, durable: bool = True, trace: Callable[[str], object] | None = None
    ) -> AsyncIterator["Store"]:
        """Open a migrated database file; close everything at the end.

        `durable=False` is for tests that need not outlive a power cut: SQLite then does not wait for the disk.
        `trace` gets the text of every statement that is run, for counting them.

        Raises:
            StorageFault: it could not be opened.
        """
        opened: list[sqlite3.Connection] = []
        disk = ThreadPoolExecutor(max_workers=1, thread_name_prefix="commit")
        try:
            with as_faults():
                tighten(path)
                writer = _connect(str(path), opened)
                for pragma in PRAGMAS if durable else (*PRAGMAS, "synchronous = OFF"):
                    writer.execute(f"PRAGMA {pragma}")
                # From here on waiting is the event loop's: see `_begin`.
                writer.execute("PRAGMA busy_timeout = 0")
                lent = [_connect(f"file:{quote(str(path))}?mode=ro", opened) for _ in range(readers)]
            for connection in opened:
                connection.set_trace_callback(trace)
            store = cls(writer, lent, disk)
            try:
                yield store
            finally:
                await asyncio.shield(store._finish())
        finally:
            for connection in reversed(opened):
                connection.close()
            disk.shutdown(wait=False)

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
                self._writer.execute("SAVEPOINT one")
                yield Transaction(self._writer, self.random_bytes)
                self._writer.execute("RELEASE one")
            except BaseException as error:
                self._undo(group)
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
        loop = asyncio.get_running_loop()
        until = loop.time() + BUSY_S
        while True:
            try:
                self._writer.execute("BEGIN IMMEDIATE")
                break
            except sqlite3.Error as error:
                if getattr(error, "sqlite_errorcode", 0) & 0xFF != sqlite3.SQLITE_BUSY or loop.time() > until:
                    raise StorageFault(str(error)) from error
                await asyncio.sleep(AGAIN_S)
        self._group = group = _Group()
        self._committing = asyncio.create_task(self._commit(group), name="commit")
        return group

    async def _commit(self, group: _Group) -> None:
        async with self._turn:
            if group.failed:
                return
            self._group = None
            try:
                await asyncio.get_running_loop().run_in_executor(self._disk, self._writer.commit)
            except BaseException as error:
                self._roll_back()
                group.fail(error)
                if not isinstance(error, sqlite3.Error):
                    raise
            group.over.set()

    def _undo(self, group: _Group) -> None:
        """Undo the transaction whose turn it is; where SQLite undid the whole group (a full disk), that has failed."""
        try:
            self._writer.execute("ROLLBACK TO one")
            self._writer.execute("RELEASE one")
        except sqlite3.Error as error:
            self._roll_back()
            self._group = None
            group.fail(error)

    def _roll_back(self) -> None:
        try:
            self._writer.rollback()
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
            reader.execute("BEGIN")
            yield Snapshot(reader)
        except sqlite3.Error as error:
            raise StorageFault(str(error)) from error
        finally:
            try:
                reader.rollback()
            finally:
                self._readers.put_nowait(reader)


def _connect(where: str, opened: list[sqlite3.Connection]) -> sqlite3.Connection:
    connection = sqlite3.connect(
        where, uri=where.startswith("file:"), isolation_level=None, check_same_thread=False, cached_statements=256
    )
    opened.append(connection)
    connection.row_factory = sqlite3.Row
    connection.execute("PRAGMA busy_timeout = 5000")
    return connection

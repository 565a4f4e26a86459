"""Transactions that wait for their turn and share a commit.

Waiting for the disk is what takes long, and only a commit does it. Transactions whose turn comes before the commit
share it, each in a savepoint of its own: those that wait when the one before them is on the disk. Nobody is told that
something is done before the commit that holds it is on the disk.
"""

import asyncio
import sqlite3
from collections import deque
from collections.abc import AsyncIterator, Callable, Coroutine
from contextlib import asynccontextmanager, suppress
from typing import Any, TypeVar

from storage.file_errors import StorageFault
from storage.tables.database_thread import FromLoop, InThread, in_one_go
from storage.tables.sql_session import OUTER, Transaction, undo

T = TypeVar("T")
MOST_AT_ONCE = 50
"""Transactions that are done in one hop: those behind them must not keep the first of them from its commit for long."""


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


class _Waiting:
    """A transaction that waits for its turn."""

    def __init__(self, work: Callable[[Transaction], Coroutine[Any, Any, Any]]) -> None:
        self.work = work
        self.ran: asyncio.Future[tuple[_Group, Any]] = asyncio.get_running_loop().create_future()
        """What came of it, and whose commit it waits for now."""
        self.result: Any = None
        self.error: BaseException | None = None
        self.given_up = False
        """Whoever asked waits no more: it is not to be begun."""

    def tell(self, group: _Group | None) -> None:
        """Tell whoever asked what came of it; without a group, that is its error."""
        if self.error is None and group is not None:
            self.ran.set_result((group, self.result))
        else:
            self.ran.set_exception(self.error or StorageFault("not begun"))


class GroupCommit:
    """Everything that is written, through one connection."""

    def __init__(self, access: FromLoop, random_bytes: Callable[[int], bytes]) -> None:
        self._access = access
        self._turn = asyncio.Lock()
        self._group: _Group | None = None
        self._committing: asyncio.Task[None] | None = None
        self._waiting: deque[_Waiting] = deque()
        self._taking_turns: asyncio.Task[None] | None = None
        self.random_bytes = random_bytes
        """Where keys come from."""
        self.listeners: list[Callable[[], None]] = []
        """Called after every committed transaction."""

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
                await self._access.run(_execute, f"SAVEPOINT {OUTER}")
                db = Transaction(self._access, self.random_bytes)
                yield db
                for work in db.at_the_end.values():
                    await work(db)
            except BaseException as error:
                # A cancelled await still runs its SQL; what undoes it queues behind it and must not be cancelled.
                await asyncio.shield(self._undo(group))
                if isinstance(error, sqlite3.Error):
                    raise StorageFault(str(error)) from error
                raise
        await self._kept(group)

    async def transact(self, work: Callable[[Transaction], Coroutine[Any, Any, T]]) -> T:
        """The same, all in one hop, for work that awaits nothing but the database (see `Store.transact`)."""
        one = _Waiting(work)
        self._waiting.append(one)
        if self._taking_turns is None or self._taking_turns.done():
            self._taking_turns = asyncio.create_task(self._take_turns(), name="transactions")
        try:
            group, result = await asyncio.shield(one.ran)
        except asyncio.CancelledError:
            one.given_up = True
            if one in self._waiting:
                self._waiting.remove(one)
            else:
                with suppress(Exception):
                    await (await one.ran)[0].over.wait()
            raise
        await self._kept(group)
        found: T = result
        return found

    async def _take_turns(self) -> None:
        """Do what waits, as much as there is at each turn."""
        while self._waiting:
            async with self._turn:
                await self._do_waiting()

    async def _do_waiting(self) -> None:
        # In a group that somebody has begun who waits for other things, too; else all of it in one hop.
        group, whole = self._group or _Group(), self._group is None
        batch = self._take_waiting()
        try:
            await self._access.surely(_do_all_and_commit if whole else _do_all, batch, self.random_bytes)
            if whole:
                group.over.set()
        except BaseException as error:
            await asyncio.shield(self._lose(group, error))
            for one in batch:
                one.error = StorageFault(str(error) or type(error).__name__)
            if not isinstance(error, Exception):
                raise
        finally:
            for one in batch:
                one.tell(group)

    def _take_waiting(self) -> list[_Waiting]:
        """Those whose turn it is; whoever is cancelled before is not among them any more."""
        return [self._waiting.popleft() for _ in range(min(MOST_AT_ONCE, len(self._waiting)))]

    async def _kept(self, group: _Group) -> None:
        """Wait for the commit of a group.

        Raises:
            StorageFault: it failed.
        """
        try:
            await group.over.wait()
        except asyncio.CancelledError:
            # Whoever cancelled this goes by what the file then holds.
            await group.over.wait()
            raise
        if group.failed:
            raise StorageFault(group.failed)
        for listener in self.listeners:
            listener()

    async def _begin(self) -> _Group:
        """Begin a group, and have it committed once everybody whose turn it was before then is done."""
        try:
            await self._access.run(_execute, "BEGIN IMMEDIATE")
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
                await self._access.run(sqlite3.Connection.commit)
            except BaseException as error:
                await asyncio.shield(self._roll_back())
                group.fail(error)
                if not isinstance(error, sqlite3.Error):
                    raise
            group.over.set()

    async def _undo(self, group: _Group) -> None:
        """Undo the transaction whose turn it is; where SQLite undid the whole group (a full disk), that has failed."""
        try:
            await self._access.run(undo, OUTER)
        except sqlite3.Error as error:
            await self._lose(group, error)

    async def _lose(self, group: _Group, error: BaseException) -> None:
        await self._roll_back()
        self._group = None
        group.fail(error)

    async def _roll_back(self) -> None:
        with suppress(sqlite3.Error):
            # The first error is the one to tell; SQLite has then rolled back by itself.
            await self._access.run(sqlite3.Connection.rollback)

    async def finish(self) -> None:
        """Wait until everything that has been begun is over."""
        for task in (self._taking_turns, self._committing):
            if task is not None:
                await task


def _execute(connection: sqlite3.Connection, sql: str) -> None:
    connection.execute(sql)


def _do_all_and_commit(
    connection: sqlite3.Connection, batch: list[_Waiting], random_bytes: Callable[[int], bytes]
) -> None:
    """The same from the beginning of a group to its commit; whoever gets an exception of it must roll back."""
    connection.execute("BEGIN IMMEDIATE")
    _do_all(connection, batch, random_bytes)
    connection.commit()


def _do_all(connection: sqlite3.Connection, batch: list[_Waiting], random_bytes: Callable[[int], bytes]) -> None:
    """Do several transactions, each in a savepoint of its own, and then once what they want to be done at the end.

    Raises:
        Exception: that failed, or one of them cannot be undone, because SQLite has undone the whole group (a full
            disk). None of them must be kept.
    """
    access = InThread(connection)
    last = Transaction(access, random_bytes)
    for one in batch:
        if one.given_up:
            # Who asked has been told that it could not be done, while the file was busy.
            one.error = StorageFault("given up")
            continue
        try:
            connection.execute(f"SAVEPOINT {OUTER}")
            db = Transaction(access, random_bytes)
            one.result = in_one_go(one.work(db))
            connection.execute(f"RELEASE {OUTER}")
            last.at_the_end |= db.at_the_end
        except BaseException as error:  # noqa: BLE001 - it is told to whoever asked
            undo(connection, OUTER)
            one.error = StorageFault(str(error)) if isinstance(error, sqlite3.Error) else error
    for work in last.at_the_end.values():
        in_one_go(work(last))

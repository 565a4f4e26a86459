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

from storage.database_thread import FromLoop, InThread, in_one_go
from storage.file_errors import StorageFault
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
        self.group: _Group | None = None
        """Whose commit it waits for, once it has been done."""
        self.result: Any = None
        self.error: BaseException | None = None
        self.given_up = False
        """Whoever asked waits no more: it is not to be begun."""
        self.told: asyncio.Future[None] | None = None
        """Where whoever asked waits, if another one sees to it."""

    def tell(self, group: _Group) -> None:
        """It has been done, or has failed."""
        self.group = group
        if self.told is not None:
            self.told.set_result(None)


class GroupCommit:
    """Everything that is written, through one connection."""

    def __init__(self, access: FromLoop, random_bytes: Callable[[int], bytes]) -> None:
        self._access = access
        self._turn = asyncio.Lock()
        self._group: _Group | None = None
        self._committing: asyncio.Task[None] | None = None
        self._waiting: deque[_Waiting] = deque()
        self._seen_to = False
        """Whether somebody sees to those that wait: the first of them, or a task for those that came meanwhile."""
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
        await (self._follow(one) if self._seen_to else self._lead(one))
        if one.error is not None:
            raise one.error
        assert one.group is not None
        await self._kept(one.group)
        found: T = one.result
        return found

    async def _lead(self, one: _Waiting) -> None:
        """Do the first that waits, and what waits with it when its turn has come; a task for that would take long."""
        self._seen_to = True
        try:
            # What is asked for in the same turn of the event loop shares the commit.
            await asyncio.sleep(0)
            async with self._turn:
                await self._do_waiting(one)
        finally:
            if one in self._waiting:
                self._waiting.remove(one)
            self._seen_to = bool(self._waiting)
            if self._waiting:
                self._taking_turns = asyncio.create_task(self._take_turns(), name="transactions")

    async def _follow(self, one: _Waiting) -> None:
        """Wait until it has been done with others."""
        one.told = asyncio.get_running_loop().create_future()
        try:
            await asyncio.shield(one.told)
        except asyncio.CancelledError:
            one.given_up = True
            if one in self._waiting:
                self._waiting.remove(one)
            else:
                await one.told
                if one.error is None and one.group is not None:
                    await one.group.over.wait()
            raise

    async def _take_turns(self) -> None:
        """Do what waits, as much as there is at each turn."""
        while self._waiting:
            async with self._turn:
                await self._do_waiting()
        self._seen_to = False

    async def _do_waiting(self, leader: _Waiting | None = None) -> None:
        # In a group that somebody has begun who waits for other things, too; else all of it in one hop.
        group, do = (_Group(), _do_all_and_commit) if self._group is None else (self._group, _do_all)
        batch, failed = self._take_waiting(), _Failed()
        try:
            await self._access.run(failed.note, do, batch, self.random_bytes)
        except asyncio.CancelledError:
            if leader is not None:
                leader.given_up = True
            # The thread is at it all the same, for the others, too; however often we are told to stop.
            settling = asyncio.create_task(self._settle(group, batch, failed, behind=True))
            while not settling.done():
                with suppress(asyncio.CancelledError):
                    await asyncio.wait((settling,))
            raise
        except Exception as closed:  # noqa: BLE001 - it is told to all who share it
            failed.error = closed
        await self._settle(group, batch, failed)

    async def _settle(self, group: _Group, batch: list[_Waiting], failed: "_Failed", *, behind: bool = False) -> None:
        """Tell all of them what came of it; `behind` waits until the thread is done with it."""
        if behind:
            await self._access.run(_nothing)
        if failed.error is not None:
            await self._lose(group, failed.error)
            for one in batch:
                one.error = StorageFault(group.failed)
        elif self._group is None:
            group.over.set()
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
        while self._seen_to:
            async with self._turn:
                pass
            await asyncio.sleep(0)
        if self._committing is not None:
            await self._committing


class _Failed:
    """Why what was done in the connection's thread failed, for whoever comes back to it later."""

    def __init__(self) -> None:
        self.error: Exception | None = None

    def note(self, connection: sqlite3.Connection, do: Callable[..., None], *about: Any) -> None:
        """Do it, and note why it failed."""
        try:
            do(connection, *about)
        except Exception as error:  # noqa: BLE001 - it is told to all who share it
            self.error = error


def _nothing(_: sqlite3.Connection) -> None:
    """What comes after everything that was asked for before."""


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

"""Looking into the file where it is asked for: what was read before and has not changed since is not read again."""

import sqlite3
from collections.abc import Callable, Coroutine
from typing import Any, TypeVar

from storage.connection_settings import LOOKS_KEPT
from storage.tables.database_thread import InThread, in_one_go
from storage.tables.sql_session import Snapshot

T = TypeVar("T")


class Changes:
    """What has been written since the last look; told in the thread that writes, before each commit."""

    def __init__(self) -> None:
        self.tables: set[str | None] = set()
        """Those that were written; None stands for some that nobody knows."""
        self._version: int | None = None

    def begin(self, connection: sqlite3.Connection) -> None:
        """Begin to write, and note whether another program has, which none should while we run."""
        connection.execute("BEGIN IMMEDIATE")
        # A connection is told here of the commits of others only.
        version = connection.execute("PRAGMA data_version").fetchone()[0]
        if version != self._version:
            self._version = version
            self.tables.add(None)


class Looks:
    """One look after the other, through a connection that only reads."""

    def __init__(self, connection: sqlite3.Connection, changes: Changes, writing: Callable[[], bool]) -> None:
        """`writing` says whether something is being written, of which `changes` may not tell yet."""
        self._connection = connection
        self._changes = changes
        self._writing = writing
        self._known = Snapshot(InThread(connection))
        self._count = 0
        self._version: int | None = None

    def look(self, work: Callable[[Snapshot], Coroutine[Any, Any, T]]) -> T:
        """Do work that awaits nothing but the database, in a snapshot of its own.

        Raises:
            sqlite3.Error: the file could not be read.
        """
        self._connection.execute("BEGIN")
        try:
            return in_one_go(work(self._moment()))
        finally:
            self._connection.rollback()

    def _moment(self) -> Snapshot:
        """The snapshot that has begun, with what is known of it."""
        # Another one whenever any other connection, such as the one that writes, has committed something.
        version = self._connection.execute("PRAGMA data_version").fetchone()[0]
        news, self._version = version != self._version, version
        changed, writing = self._changes.tables, self._writing()
        self._count += 1
        if self._count > LOOKS_KEPT or (news and (writing or not changed)):
            self._known, self._count = Snapshot(InThread(self._connection)), 0
        elif news:
            self._known.forget(*changed)
        if not writing:
            changed.clear()
        return self._known

"""One process per database: an exclusive SQLite lock on a file beside it, gone when the process is, however it ends."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from storage.private_files import create_private


class DatabaseInUse(Exception):
    """Another process runs on this database."""


@contextmanager
def only_process(database: Path) -> Iterator[None]:
    """Hold the database for this process.

    Raises:
        DatabaseInUse: another process holds it.
        OSError, sqlite3.Error: the lock file cannot be made or locked.
    """
    path = database.with_name(f"{database.name}.lock")
    create_private(path)
    with closing(sqlite3.connect(path, timeout=0, isolation_level=None)) as lock:
        try:
            lock.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError as busy:
            if busy.sqlite_errorcode == sqlite3.SQLITE_BUSY:
                raise DatabaseInUse(str(database)) from busy
            raise
        yield

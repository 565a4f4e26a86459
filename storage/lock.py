"""One process per database: an exclusive SQLite lock on a file beside it, gone when the process is, however it ends."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path


class DatabaseInUse(Exception):
    """Another process runs on this database."""


@contextmanager
def only_process(database: Path) -> Iterator[None]:
    """Hold the database for this process.

    Raises:
        DatabaseInUse: another process holds it.
    """
    with closing(sqlite3.connect(f"{database}.lock", timeout=0, isolation_level=None)) as lock:
        try:
            lock.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError as busy:
            if busy.sqlite_errorcode == sqlite3.SQLITE_BUSY:
                raise DatabaseInUse(str(database)) from busy
            raise
        yield

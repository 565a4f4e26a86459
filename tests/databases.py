"""Databases for checks that need a real one but do not test how it is kept: a copied file, no waiting for the disk."""

import asyncio
import sqlite3
from collections.abc import AsyncIterator, Callable, Generator
from contextlib import asynccontextmanager, closing
from functools import cache, partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, ParamSpec, TypeVar

import aiosqlite

from storage.migrate import migrate
from storage.store import Store


@cache
def _migrated() -> bytes:
    """The file that all migrations make, in the mode in which the store leaves it; made once a test run."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "template.db"
        migrate(path)
        with closing(sqlite3.connect(path)) as connection:
            connection.execute("PRAGMA journal_mode = WAL")
        return path.read_bytes()


def new_database(path: Path) -> Path:
    """Put an empty, migrated database at a path.

    Copies share the tag that makes nonces unique to a file: whoever needs two files on one class server migrates them.
    """
    path.write_bytes(_migrated())
    return path


P = ParamSpec("P")
T = TypeVar("T")


class _AtOnce(aiosqlite.Connection):
    """Runs each statement where it is asked for, and then lets other tasks have their turn.

    The library's own way, through a thread, takes longer than most statements do.
    """

    def __await__(self) -> Generator[Any, None, aiosqlite.Connection]:
        return self._connect().__await__()

    async def _connect(self) -> aiosqlite.Connection:
        self._connection = self._connector()
        return self

    async def _execute(self, fn: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        result = fn(*args, **kwargs)
        await asyncio.sleep(0)
        return result

    async def close(self) -> None:
        self._conn.close()
        self._connection = None


def at_once(where: str, **how: Any) -> aiosqlite.Connection:
    """A connection for `Store.open` without a thread of its own."""
    return _AtOnce(partial(sqlite3.connect, where, **how), iter_chunk_size=64)


@asynccontextmanager
async def new_store(path: Path) -> AsyncIterator[Store]:
    """A store on a new database, which would not survive a power cut and has no threads; nothing else is different."""
    async with Store.open(new_database(path), durable=False, connect=at_once) as store:
        yield store

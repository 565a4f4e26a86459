"""Databases for checks that need a real one but do not test how it is kept: a copied file, no waiting for the disk."""

import sqlite3
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, closing
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

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


@asynccontextmanager
async def new_store(path: Path) -> AsyncIterator[Store]:
    """A store on a new database, which would not survive a power cut; nothing else is different."""
    async with Store.open(new_database(path), durable=False) as store:
        yield store

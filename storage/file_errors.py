"""What goes wrong with a file on the disk, as one kind of error."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

_DAMAGE = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


class StorageFault(Exception):
    """The file could not be written or read (disk full, read-only, damaged); nothing was changed."""


class DamagedDatabase(StorageFault):
    """SQLite's integrity check found something wrong, or the file is no database at all."""


@contextmanager
def as_faults() -> Iterator[None]:
    """Turn what SQLite and the file system raise into a fault with a short reason.

    Raises:
        DamagedDatabase: SQLite found the file damaged.
        StorageFault: anything else about the file.
    """
    try:
        yield
    except OSError as error:
        raise StorageFault(error.strerror or str(error)) from error
    except sqlite3.Error as error:
        # The low byte of an extended code is the code itself.
        damaged = getattr(error, "sqlite_errorcode", 0) & 0xFF in _DAMAGE
        raise (DamagedDatabase if damaged else StorageFault)(str(error)) from error

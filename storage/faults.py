"""What goes wrong with a file on the disk, as one kind of error."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager


class StorageFault(Exception):
    """The file could not be written or read (disk full, read-only, damaged); nothing was changed."""


@contextmanager
def as_faults() -> Iterator[None]:
    """Turn what SQLite and the file system raise into a `StorageFault` with a short reason.

    Raises:
        StorageFault: something inside raised.
    """
    try:
        yield
    except OSError as error:
        raise StorageFault(error.strerror or str(error)) from error
    except sqlite3.Error as error:
        raise StorageFault(str(error)) from error

"""Copies of a database file, written by SQLite itself and checked before they count."""

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from storage.file_errors import DamagedDatabase, as_faults

COMPANIONS = ("-wal", "-shm", "-journal")
"""What SQLite keeps beside a file while it is open, or after a crash."""


def check_database(path: Path) -> None:
    """Run SQLite's integrity check on a file.

    Raises:
        DamagedDatabase: the check reports anything but `ok`.
        StorageFault: the file cannot be read.
    """
    with as_faults(), closing(connect(path, "ro")) as connection:
        report = [str(row[0]) for row in connection.execute("PRAGMA integrity_check")]
    if report != ["ok"]:
        raise DamagedDatabase("; ".join(report[:5]))


def copy_database(source: Path, target: Path) -> None:
    """Copy a database, even one in use, and put the copy in place only once it is whole, checked and on the disk.

    Nobody else may read the copy, and nothing that was deleted is left in it. The source's writers go on meanwhile.

    Raises:
        DamagedDatabase: the source or the copy is not sound.
        StorageFault: one of them could not be read or written. Either way the target is left as it was.
    """
    # Two processes may make a copy at the same moment: each has its own until it is whole.
    unfinished = target.with_name(f"{target.name}.{os.getpid()}.part")
    remove(unfinished)
    try:
        with as_faults():
            unfinished.touch(mode=0o600)
            _copy(source, unfinished)
            check_database(unfinished)
            unfinished.replace(target)
        settle_folder(target.parent)
    finally:
        remove(unfinished)


def _copy(source: Path, target: Path) -> None:
    with closing(connect(source, "rw")) as old:
        old.execute("PRAGMA temp_store = MEMORY")
        # Deleted rows stay in free pages; a copy written row by row has none. SQLite does not wait for the disk here.
        old.execute("VACUUM INTO ?", (str(target.absolute()),))
    with target.open("r+b") as new:
        os.fsync(new.fileno())


def connect(path: Path, mode: str) -> sqlite3.Connection:
    """Open a file that must be there already; `mode` is `ro` or `rw`."""
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode={mode}", uri=True, isolation_level=None)


def remove(path: Path) -> None:
    """Delete a database file, if it is there, with everything SQLite keeps beside it.

    Raises:
        StorageFault: it could not be deleted.
    """
    with as_faults():
        for name in (path.name, *(f"{path.name}{companion}" for companion in COMPANIONS)):
            path.with_name(name).unlink(missing_ok=True)


def settle_folder(folder: Path) -> None:
    """Have the names in a folder on the disk, where the system can be asked for that."""
    if os.name != "posix":
        return
    with suppress(OSError):
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)

"""Copies of the database by SQLite's own backup API, checked before they count."""

import sqlite3
from contextlib import closing
from pathlib import Path


class DamagedDatabase(Exception):
    """SQLite's integrity check found something wrong."""


def check_database(path: Path) -> None:
    """Run SQLite's integrity check on a file.

    Raises:
        DamagedDatabase: the check reports anything but `ok`.
    """
    with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as connection:
        report = [row[0] for row in connection.execute("PRAGMA integrity_check")]
    if report != ["ok"]:
        raise DamagedDatabase("; ".join(map(str, report[:5])))


def copy_database(source: Path, target: Path) -> None:
    """Copy a database, even one in use, and put the copy in place only after it has passed the check.

    Raises:
        DamagedDatabase: the copy is not sound; the target is left as it was.
    """
    unfinished = target.with_name(f"{target.name}.part")
    unfinished.unlink(missing_ok=True)
    try:
        with closing(sqlite3.connect(source)) as old, closing(sqlite3.connect(unfinished)) as new:
            old.backup(new)
            new.execute("PRAGMA journal_mode = DELETE")
        check_database(unfinished)
        unfinished.replace(target)
    finally:
        unfinished.unlink(missing_ok=True)

"""Numbered SQL migrations: each in one transaction together with its number, a verified copy of the file before."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from datetime import UTC, datetime
from importlib import resources
from pathlib import Path
from typing import NamedTuple

from storage.backup import place_for
from storage.database_file import copy_database
from storage.file_errors import StorageFault
from storage.private_files import create_private


class NewerDatabase(Exception):
    """The file was written by a newer version of the program."""

    def __init__(self, found: int, known: int) -> None:
        super().__init__(f"database version {found}, this program knows up to {known}")
        self.found = found
        self.known = known


class Orphan(NamedTuple):
    """A row that refers to a row of another table which is not there; `rowid` is None in tables without one."""

    table: str
    rowid: int | None
    parent: str


class BrokenMigration(StorageFault):
    """A migration left rows without what they refer to, and was undone."""

    def __init__(self, number: int, rows: Sequence[Orphan]) -> None:
        shown = ", ".join(f"{row.table} {row.rowid} (no such {row.parent})" for row in rows[:5])
        super().__init__(f"migration {number} leaves {len(rows)} rows without what they refer to: {shown}")
        self.number = number
        self.rows = tuple(rows)


def migrations() -> list[str]:
    """The SQL of every migration, in order; the first is number 1."""
    folder = resources.files("storage") / "migrations"
    files = sorted((entry for entry in folder.iterdir() if entry.name.endswith(".sql")), key=lambda entry: entry.name)
    for number, entry in enumerate(files, start=1):
        if int(entry.name.split("_")[0]) != number:
            raise ValueError(f"migration {entry.name} should be number {number:04}")
    return [entry.read_text("utf-8") for entry in files]


def statements(sql: str) -> Iterator[str]:
    """The single statements of a script."""
    pending = ""
    for line in sql.splitlines(keepends=True):
        pending += line
        if sqlite3.complete_statement(pending):
            yield pending
            pending = ""
    if pending.strip():
        raise ValueError(f"a migration ends in the middle of a statement: {pending!r}")


def migrate(path: Path, scripts: list[str] | None = None) -> int:
    """Bring the file up to date, creating it when absent, and return its version.

    A script may rebuild a table (the only way to change a CHECK or NOT NULL): foreign keys are off while it runs, so
    that dropping the old table does not empty those that refer to it, and are checked before it is committed.

    Raises:
        NewerDatabase: the file knows more migrations than we do.
        BrokenMigration: a migration left rows without what they refer to.
        StorageFault: the copy that is made before could not be made.
        OSError, sqlite3.Error: the file cannot be written, or a migration failed. In every case what stood before the
            migration stands still.
    """
    scripts = migrations() if scripts is None else scripts
    create_private(path)
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        version = int(connection.execute("PRAGMA user_version").fetchone()[0])
        if version > len(scripts):
            raise NewerDatabase(version, len(scripts))
        if 0 < version < len(scripts):
            copy_database(path, place_for(path, datetime.now(UTC), before=f"version-{len(scripts)}"))
        if version == 0:
            # A new file: nothing is lost with the power but itself, so that each step need not wait for the disk.
            connection.execute("PRAGMA journal_mode = WAL")
            connection.execute("PRAGMA synchronous = NORMAL")
        # SQLite ignores this inside a transaction. Whoever opens the file later turns them on for itself.
        connection.execute("PRAGMA foreign_keys = OFF")
        for number, script in enumerate(scripts[version:], start=version + 1):
            _run(connection, number, script)
    return len(scripts)


def _run(connection: sqlite3.Connection, number: int, script: str) -> None:
    """One migration and its number, or neither."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        for statement in statements(script):
            connection.execute(statement)
        orphans = [Orphan(*row[:3]) for row in connection.execute("PRAGMA foreign_key_check")]
        if orphans:
            raise BrokenMigration(number, orphans)
        connection.execute(f"PRAGMA user_version = {number}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise

"""Numbered SQL migrations: each in one transaction together with its number, a verified copy of the file before."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from importlib import resources
from pathlib import Path

from storage.backup import place_for
from storage.copies import copy_database
from storage.private_files import create_private


class NewerDatabase(Exception):
    """The file was written by a newer version of the program."""

    def __init__(self, found: int, known: int) -> None:
        super().__init__(f"database version {found}, this program knows up to {known}")
        self.found = found
        self.known = known


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

    Raises:
        NewerDatabase: the file knows more migrations than we do.
        OSError, sqlite3.Error: the file cannot be written, or a migration failed; what stood before it stands still.
    """
    scripts = migrations() if scripts is None else scripts
    create_private(path)
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        version = int(connection.execute("PRAGMA user_version").fetchone()[0])
        if version > len(scripts):
            raise NewerDatabase(version, len(scripts))
        if 0 < version < len(scripts):
            copy_database(path, place_for(path, datetime.now(UTC), before=f"version-{len(scripts)}"))
        connection.execute("PRAGMA foreign_keys = ON")
        for number, script in enumerate(scripts[version:], start=version + 1):
            connection.execute("BEGIN IMMEDIATE")
            try:
                for statement in statements(script):
                    connection.execute(statement)
                connection.execute(f"PRAGMA user_version = {number}")
                connection.execute("COMMIT")
            except BaseException:
                if connection.in_transaction:
                    connection.execute("ROLLBACK")
                raise
    return len(scripts)

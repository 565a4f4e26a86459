"""Fills every table of a database with valid rows that are read off its schema alone, whatever the version."""

import re
import sqlite3
from contextlib import closing
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from storage.migrate import migrate, migrations

ROUNDS = 4
TRIES = 400

Value = int | str | bytes | None
Rows = list[dict[str, Value]]


def open_database(path: Path) -> sqlite3.Connection:
    """Open a file as the store does, foreign keys and all."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.row_factory = sqlite3.Row
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA synchronous = OFF")
    return connection


@cache
def of_version(number: int) -> bytes:
    """The file that so many migrations make of nothing."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "a.db"
        migrate(path, migrations()[:number])
        return path.read_bytes()


@cache
def _filled_today() -> bytes:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "a.db"
        path.write_bytes(of_version(len(migrations())))
        fill(path)
        return path.read_bytes()


def new_filled(path: Path) -> Path:
    """Put a database of today with rows in every table at a path."""
    path.write_bytes(_filled_today())
    return path


def table_names(connection: sqlite3.Connection) -> list[str]:
    """The tables of the schema, without SQLite's own."""
    found = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    return [row[0] for row in found]


def contents(path: Path) -> dict[str, Rows]:
    """Every row of every table, in a fixed order."""
    with closing(open_database(path)) as connection:
        return {
            table: sorted((dict(row) for row in connection.execute(f'SELECT * FROM "{table}"')), key=repr)
            for table in table_names(connection)
        }


def schema(path: Path) -> list[tuple[str, str, str, str]]:
    """Every table and index with its SQL, in which spaces and quoted names do not count."""
    with closing(sqlite3.connect(path)) as connection:
        found = connection.execute("SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY 1, 2")
        return [(kind, name, table, re.sub(r"[\s\"]+", " ", sql)) for kind, name, table, sql in found]


def complaints(path: Path) -> list[tuple[object, ...]]:
    """What SQLite's own two checks find wrong with a file."""
    with closing(sqlite3.connect(path)) as connection:
        found = [*connection.execute("PRAGMA integrity_check"), *connection.execute("PRAGMA foreign_key_check")]
    return [tuple(row) for row in found if tuple(row) != ("ok",)]


def fill(path: Path, seed: int = 1) -> None:
    """Put rows into every table; each satisfies every constraint of the schema, foreign keys among them.

    Raises:
        AssertionError: a table stayed empty, or a column that may refer to another table never does.
    """
    random = Random(seed)
    with closing(open_database(path)) as connection:
        tables = table_names(connection)
        for number in range(1, ROUNDS + 1):
            # A table that refers to one that is still empty gets its rows in a later round.
            for table in tables:
                _insert(connection, table, number, random)
        for table in tables:
            for column, parent, key in _references(connection, table):
                _refer(connection, table, column, f'(SELECT "{key}" FROM "{parent}" LIMIT 1)')
        for table in tables:
            assert connection.execute(f'SELECT 1 FROM "{table}"').fetchone(), f"no valid row was found for {table}"
            for column, _, _ in _references(connection, table):
                used = connection.execute(f'SELECT 1 FROM "{table}" WHERE "{column}" IS NOT NULL').fetchone()
                assert used, f"{table}.{column} refers to nothing"


def _insert(connection: sqlite3.Connection, table: str, number: int, random: Random) -> None:
    """Try random rows until one is valid; none is, while a table it needs is empty."""
    choices = _choices(connection, table, number)
    names = ", ".join(f'"{column}"' for column in choices)
    marks = ", ".join("?" for _ in choices)
    for _ in range(TRIES if all(choices.values()) else 0):
        row = [random.choice(values) for values in choices.values()]
        try:
            connection.execute(f'INSERT INTO "{table}" ({names}) VALUES ({marks})', row)
        except sqlite3.IntegrityError:
            continue
        return


def _refer(connection: sqlite3.Connection, table: str, column: str, target: str) -> None:
    """Let one row refer to something, where none does yet and the constraints allow it (a captain, say)."""
    if connection.execute(f'SELECT 1 FROM "{table}" WHERE "{column}" IS NOT NULL').fetchone():
        return
    for (rowid,) in connection.execute(f'SELECT rowid FROM "{table}"').fetchall():
        try:
            connection.execute(f'UPDATE "{table}" SET "{column}" = {target} WHERE rowid = ?', (rowid,))
        except sqlite3.IntegrityError:
            continue
        return


def _references(connection: sqlite3.Connection, table: str) -> list[tuple[str, str, str]]:
    """Column, table it refers to, and the key there."""
    found = connection.execute(f'PRAGMA foreign_key_list("{table}")').fetchall()
    return [(row["from"], row["table"], row["to"]) for row in found]


def _choices(connection: sqlite3.Connection, table: str, number: int) -> dict[str, list[Value]]:
    """What may be put into each column, as far as the column alone tells."""
    sql = connection.execute("SELECT sql FROM sqlite_schema WHERE name = ?", (table,)).fetchone()[0]
    parents = {column: (parent, key) for column, parent, key in _references(connection, table)}
    choices: dict[str, list[Value]] = {}
    for info in connection.execute(f'PRAGMA table_info("{table}")').fetchall():
        column = info["name"]
        values: list[Value]
        if column in parents:
            parent, key = parents[column]
            values = [row[0] for row in connection.execute(f'SELECT "{key}" FROM "{parent}"')]
        elif allowed := re.search(rf'\b{column}"? IN\s*\(([^)]*)\)', sql):
            values = [_literal(text) for text in allowed[1].split(",")]
        elif info["type"] == "INTEGER":
            values = [number]
        elif info["type"] == "BLOB":
            values = [f"{column} {number}".encode()]
        else:
            values = [f"{column} of row {number}"]
        if not info["notnull"] and not info["pk"]:
            values.append(None)
        choices[column] = values
    return choices


def _literal(text: str) -> Value:
    text = text.strip()
    return text[1:-1] if text.startswith("'") else int(text)

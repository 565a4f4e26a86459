"""Ids that buttons carry are never given twice: a button may be pressed long after its row is gone."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

from tests.storage.filled_database import new_filled, open_database

TABLES = Path(__file__).parents[2] / "storage" / "tables"


def deleted_from(connection: sqlite3.Connection) -> list[str]:
    """The tables with an id of their own from which we delete rows."""
    sources = "\n".join(path.read_text("utf-8") for path in sorted(TABLES.glob("*.py")))
    named = set(re.findall(r"DELETE FROM (\w+)", sources))
    return sorted(
        table
        for table in named
        for column in connection.execute("SELECT name, pk FROM pragma_table_info(?)", (table,))
        if column["name"] == "id" and column["pk"]
    )


def test_the_id_of_a_row_that_is_gone_is_not_given_again(tmp_path: Path) -> None:
    path = new_filled(tmp_path / "a.db")
    with closing(open_database(path)) as connection:
        tables = deleted_from(connection)
        assert {"student", "class_list_entry", "sheet", "offer", "day_slot"} <= set(tables)
        last = {table: connection.execute(f"SELECT max(id) FROM {table}").fetchone()[0] for table in tables}
        made = dict(connection.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'table'").fetchall())
    assert [table for table in tables if "AUTOINCREMENT" not in made[table]] == []
    with closing(open_database(path)) as connection:
        connection.execute("DELETE FROM tryout")
        assert not any(connection.execute(f"SELECT 1 FROM {table}").fetchone() for table in tables)
        for table in tables:
            (number,) = connection.execute("SELECT seq FROM sqlite_sequence WHERE name = ?", (table,)).fetchone()
            assert number >= last[table]

"""Migrations, against real SQLite files that are full of rows."""

import re
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from storage.migrate import BrokenMigration, NewerDatabase, migrate, migrations, statements
from tests.storage.filled_database import complaints, contents, fill, new_filled, of_version, open_database, schema

VERSIONS = range(1, len(migrations()) + 1)

NEW_NAMES: dict[str, str | None] = {
    "letter": "outbox_message",
    "letter.to": "address",
    "card": "live_message",
    "card.to": "address",
    "trouble": "delivery_incident",
    "trouble.to": "address",
    "room_claim.to": "address",
    "due": "scheduled_job",
    "receipt": "processed_interaction",
    "trail": "audit_log",
    "database": "database_identity",
    "typing": "typed_sheet",
    "let_go": "missing_at_close",
    "judging": "judged_event",
    "seat": "panel_seat",
    "trial": "calibration",
    "trial_sheet": "calibration_sheet",
    "turn": "practice_turn",
    "tie_of_interest": "conflict_of_interest",
}
"""Where a later migration put a table (`old`) or a column (`table.old`, the table by its old name); None: dropped."""


def version(path: Path) -> int:
    with closing(sqlite3.connect(path)) as connection:
        return int(connection.execute("PRAGMA user_version").fetchone()[0])


def rebuilding(path: Path, table: str) -> str:
    """A script that makes a table anew and moves its rows, as one must to change a constraint."""
    with closing(open_database(path)) as connection:
        found = connection.execute(
            "SELECT sql FROM sqlite_schema WHERE tbl_name = ? AND sql IS NOT NULL ORDER BY type = 'index'", (table,)
        )
        table_sql, *indices = [row[0] for row in found]
    made, times = re.subn(rf'CREATE TABLE "?{table}"? ', "CREATE TABLE rebuilt ", table_sql)
    assert times == 1
    moved = [made, f"INSERT INTO rebuilt SELECT * FROM {table}", f"DROP TABLE {table}"]
    return "".join(f"{sql};\n" for sql in (*moved, f"ALTER TABLE rebuilt RENAME TO {table}", *indices))


@pytest.fixture
def filled(tmp_path: Path) -> Path:
    """A database of today with rows in every table."""
    return new_filled(tmp_path / "a.db")


def test_migrations_are_done_once_and_keep_what_is_there(filled: Path) -> None:
    before = contents(filled)
    assert version(filled) == len(migrations())
    assert migrate(filled) == len(migrations())
    assert contents(filled) == before


def test_a_migration_that_fails_half_way_leaves_what_stood_before_it(tmp_path: Path) -> None:
    path = tmp_path / "a.db"
    good, bad = "CREATE TABLE one (x INTEGER);", "CREATE TABLE two (x INTEGER);\nCREATE TABLE one (x INTEGER);"
    with pytest.raises(sqlite3.OperationalError):
        migrate(path, [good, bad])
    assert version(path) == 1
    assert [name for _, name, _, _ in schema(path)] == ["one"]


def test_a_copy_is_kept_before_a_database_is_changed(tmp_path: Path) -> None:
    path = tmp_path / "a.db"
    migrate(path, ["CREATE TABLE one (x INTEGER);"])
    migrate(path, ["CREATE TABLE one (x INTEGER);", "DROP TABLE one;"])
    (copy,) = (tmp_path / "a.db.backups").glob("a-*-before-version-2.db")
    assert [name for _, name, _, _ in schema(copy)] == ["one"]


def test_a_database_from_a_newer_version_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.db"
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("PRAGMA user_version = 999")
    with pytest.raises(NewerDatabase):
        migrate(path)


def test_a_migration_that_rebuilds_a_table_keeps_every_row_that_refers_to_it(filled: Path) -> None:
    before, golden = contents(filled), schema(filled)
    assert before["attempt"] and before["sheet"] and before["student"]
    migrate(filled, [*migrations(), rebuilding(filled, "squad")])
    assert contents(filled) == before
    assert schema(filled) == golden
    assert complaints(filled) == []


def test_what_refers_to_a_rebuilt_table_still_goes_with_it(filled: Path) -> None:
    migrate(filled, [*migrations(), rebuilding(filled, "squad")])
    with closing(open_database(filled)) as connection:
        connection.execute("DELETE FROM student")
        connection.execute("DELETE FROM squad")
    after = contents(filled)
    assert after["attempt"] == after["sheet"] == []
    assert complaints(filled) == []


def test_a_migration_that_leaves_an_orphan_is_undone(filled: Path) -> None:
    before = contents(filled)
    script = "CREATE TABLE more (x INTEGER);\nDELETE FROM squad WHERE id = (SELECT min(squad_id) FROM attempt);"
    next_number = len(migrations()) + 1
    with pytest.raises(BrokenMigration, match=rf"migration {next_number} leaves \d+ rows .*no such squad") as it:
        migrate(filled, [*migrations(), script])
    assert it.value.number == next_number
    assert {"attempt"} <= {row.table for row in it.value.rows}
    assert {row.parent for row in it.value.rows} == {"squad"}
    assert contents(filled) == before
    assert version(filled) == len(migrations())
    migrate(filled)


@pytest.mark.parametrize("old", VERSIONS)
def test_a_filled_database_of_every_version_becomes_one_of_today(tmp_path: Path, old: int) -> None:
    path, fresh = tmp_path / "a.db", tmp_path / "fresh.db"
    path.write_bytes(of_version(old))
    fill(path, seed=old)
    before = contents(path)
    migrate(path)
    fresh.write_bytes(of_version(len(migrations())))
    assert version(path) == len(migrations())
    assert schema(path) == schema(fresh)
    assert complaints(path) == []
    after = contents(path)
    for table, rows in before.items():
        now = NEW_NAMES.get(table, table)
        if now is None:
            continue
        names = {column: NEW_NAMES.get(f"{table}.{column}", column) for column in rows[0]}
        kept = {old_name: new_name for old_name, new_name in names.items() if new_name is not None}
        expected = [{column: row[column] for column in kept} for row in rows]
        found = [{column: row[new_name] for column, new_name in kept.items()} for row in after[now]]
        assert sorted(found, key=repr) == sorted(expected, key=repr), table


def test_parts_and_messages_of_the_one_piece_there_was_go_to_its_event(tmp_path: Path) -> None:
    path, pieces = tmp_path / "a.db", migrations().index(next(one for one in migrations() if "hand_in_part" in one))
    migrate(path, migrations()[:pieces])
    fill(path, seed=1)
    plan = '{"events": [{"key": "sock-run", "hand_in": false}, {"key": "bunting", "hand_in": true}]}'
    with closing(open_database(path)) as connection:
        connection.execute("UPDATE tryout SET plan_json = ?", (plan,))
        connection.execute("UPDATE live_message SET key = 'hand-in/7' WHERE id = (SELECT min(id) FROM live_message)")
    before = contents(path)
    migrate(path)
    after = contents(path)
    assert [row["event"] for row in after["hand_in"]] == ["bunting"] * len(before["hand_in"]) and before["hand_in"]
    assert [row["key"] for row in after["live_message"]].count("hand-in/7/bunting") == 1


def test_a_script_that_ends_in_the_middle_is_refused() -> None:
    with pytest.raises(ValueError, match="in the middle"):
        list(statements("CREATE TABLE one (x INTEGER);\nCREATE TABLE two"))


def test_what_was_read_from_the_log_stands_in_tables_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "a.db"
    number = 1 + next(place for place, one in enumerate(migrations()) if "CREATE TABLE stopwatch" in one)
    migrate(path, migrations()[: number - 1])
    fill(path)
    clock = '{"squad": 1, "measure": "chain.time", "attempt": "%s"}'
    entries = [
        ("table.start", clock % 1), ("table.save", clock % 1),
        ("table.start", clock % 2), ("table.cancel", clock % 2), ("table.start", clock % 2), ("table.start", clock % 2),
        ("table.planning", clock % "r1"), ("table.planning", clock % 3), ("table.start", clock % 3),
        ("student.late", '{"student": 1}'), ("judge.decline", '{"judge": 1}'), ("judge.decline", '{"judge": 1}'),
        ("judges.remind", '{"judges": 2}'), ("results.announce", "{}"), ("judging.ask-again", '{"asked": 1}'),
        ("plan.propose", '{"stamp": "abc"}'), ("plan.propose", '{"stamp": "abc"}'),
        ("class-list.picked-twice", '{"entry": 1, "person": "person:b"}'), ("table.start", "no JSON at all"),
    ]  # fmt: skip
    with closing(open_database(path)) as connection, connection:
        connection.execute("DELETE FROM audit_log")
        connection.execute("UPDATE tryout SET announced_at = NULL")
        connection.executemany(
            "INSERT INTO audit_log (seq, tryout_id, at, actor, action, details_json, previous, digest) "
            "VALUES (?1, 1, ?2, 'person:a', ?3, ?4, ?1, ?1)",
            [(seq, f"t{seq:02}", action, details) for seq, (action, details) in enumerate(entries, start=1)],
        )
    migrate(path)
    with closing(open_database(path)) as connection:

        def rows(sql: str) -> list[tuple[object, ...]]:
            return [tuple(row) for row in connection.execute(sql)]

        assert rows("SELECT attempt, planning_at, started_at FROM stopwatch ORDER BY attempt") == [
            ("2", None, "t05"),
            ("3", None, "t09"),
            ("r1", "t07", None),
        ]
        assert rows("SELECT late_at FROM student WHERE id = 1") == [("t10",)]
        assert rows("SELECT declined_at FROM judge WHERE id = 1") == [("t12",)]
        assert rows("SELECT judges_reminded_at, first_announced_at FROM tryout WHERE id = 1") == [("t13", "t14")]
        assert rows("SELECT asked_by FROM reopening_request WHERE id = 1") == [("person:a",)]
        assert rows("SELECT stamp, proposed_by, proposed_at FROM plan_proposal") == [("abc", "person:a", "t16")]
        assert rows("SELECT entry_id, claimed_by, kind FROM name_claim") == [(1, "person:b", "picked-twice")]


def test_requests_from_before_an_announcement_are_over_and_later_ones_wait(tmp_path: Path) -> None:
    path = tmp_path / "a.db"
    script = next(one for one in migrations() if "ALTER TABLE reopening_request ADD COLUMN shut_at" in one)
    tables = """CREATE TABLE reopening_request (id INTEGER, tryout_id INTEGER, asked_at TEXT, agreed_at TEXT);
        CREATE TABLE audit_log (tryout_id INTEGER, at TEXT, action TEXT);
        INSERT INTO reopening_request VALUES (1, 1, 't1', NULL), (2, 1, 't3', NULL), (3, 1, 't6', NULL),
            (4, 1, 't3', 't4'), (5, 2, 't1', NULL);
        INSERT INTO audit_log VALUES (1, 't2', 'results.announce'), (1, 't5', 'results.announce'),
            (2, 't7', 'judging.resume');\n"""
    migrate(path, [tables, script])
    with closing(sqlite3.connect(path)) as connection:
        shut = connection.execute("SELECT id, shut_at FROM reopening_request ORDER BY id").fetchall()
    assert shut == [(1, "t5"), (2, "t5"), (3, None), (4, None), (5, None)]


def test_feedback_of_older_versions_becomes_plain_words(tmp_path: Path) -> None:
    path = tmp_path / "a.db"
    script = next(one for one in migrations() if "UPDATE feedback" in one)
    table = "CREATE TABLE feedback (text TEXT);\n"
    rows = "INSERT INTO feedback VALUES ('**A next step**' || char(10) || '• Say \\*why\\*: https:\\//x, a \\\\ b');\n"
    migrate(path, [table + rows, script])
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT text FROM feedback").fetchall() == [
            ("A next step\n• Say *why*: https://x, a \\ b",)
        ]

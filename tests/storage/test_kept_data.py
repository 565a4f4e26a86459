"""The register of what is kept about people is true of the schema, and erasing does what the register says."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from bot.words.privacy.erased_labels import ERASED
from storage.store import Store
from storage.tables import erase_person, helpers, purge_tryout
from storage.tables.kept_data import HARMLESS, PERSONAL, columns, kept
from tests.storage.filled_database import contents, new_filled, open_database, table_names

ACCOUNT = 424242


@pytest.fixture
def filled(tmp_path: Path) -> Path:
    return new_filled(tmp_path / "a.db")


def values(path: Path, table: str, column: str) -> set[object]:
    return {row[column] for row in contents(path)[table]}


async def test_every_column_is_described_once(filled: Path) -> None:
    """A column that is new fails here: say in the register what it holds, and erase it if it is about a person."""
    async with Store.open(filled, readers=1) as store, store.read() as db:
        found = {f"{table}.{column}" for table, column in await columns(db)}
        shown = {f"{table}.{column}" for table, column, _, _ in await kept(db, 1)}
    assert {name for name in found if name not in PERSONAL and not HARMLESS.search(name)} == set()
    assert set(PERSONAL) - found == set()
    assert {name for name in PERSONAL if HARMLESS.search(name)} == set()
    assert shown == set(PERSONAL)


async def test_a_column_that_nobody_has_described_is_shown_all_the_same(filled: Path) -> None:
    with closing(sqlite3.connect(filled)) as connection:
        connection.execute("ALTER TABLE student ADD COLUMN shoe_size TEXT DEFAULT '36'")
        connection.commit()
    async with Store.open(filled, readers=1) as store, store.read() as db:
        unknown = [line for line in await kept(db, 1) if line[2] is None]
    assert [(table, column) for table, column, _, _ in unknown] == [("student", "shoe_size")]
    assert unknown[0][3] > 0


KEPT_SHORT = {"processed_interaction.answer_json"}
"""Dropped every night, whatever try-out they belong to."""


async def test_on_the_last_day_nothing_that_is_personal_stays(filled: Path) -> None:
    with closing(sqlite3.connect(filled)) as connection:
        connection.execute("UPDATE outbox_message SET state = 'queued', claimed_at = NULL")
        connection.commit()
    before = {name: values(filled, *name.split(".")) for name in PERSONAL}
    async with Store.open(filled, readers=1) as store, store.write() as db:
        for row in await db.rows("SELECT id FROM tryout"):
            await purge_tryout.purge(db, row["id"], ERASED, datetime(2027, 1, 1, tzinfo=UTC))
    nothing = {None, "", 0, "{}", "[]"}
    left = {name: values(filled, *name.split(".")) & before[name] - nothing for name in PERSONAL}
    assert {name: found for name, found in left.items() if found and name not in KEPT_SHORT} == {}


async def test_with_one_student_goes_what_the_register_says(filled: Path) -> None:
    """In every table with a column for the student: those rows hold nothing of theirs afterwards."""
    with closing(open_database(filled)) as connection:
        student = connection.execute("SELECT id FROM student").fetchone()[0]
        tables = [
            table
            for table in table_names(connection)
            if any(row["name"] == "student_id" for row in connection.execute(f"PRAGMA table_info({table})"))
        ]
        for table in tables:
            if not connection.execute(f"SELECT 1 FROM {table} WHERE student_id = ?", (student,)).fetchone():
                connection.execute(
                    f"UPDATE {table} SET student_id = ? WHERE rowid = (SELECT min(rowid) FROM {table})", (student,)
                )
    assert {"hand_in", "class_list_entry", "correction", "rules_question"} <= set(tables)

    def theirs(table: str, column: str) -> set[object]:
        found: set[object] = {row[column] for row in contents(filled)[table] if row["student_id"] == student}
        return found - {None, ""}

    kinds = [name for name, one in PERSONAL.items() if one.with_person == "gone" and one.holds != "account"]
    gone = [name for name in kinds if name.split(".")[0] in tables]
    assert any(theirs(*name.split(".")) for name in gone)
    async with Store.open(filled, readers=1) as store, store.write() as db:
        await erase_person.forget_student(db, student, "Student 1")
    assert {name: found for name in gone if (found := theirs(*name.split(".")))} == {}


async def test_with_one_person_goes_the_account_from_everything_it_did(filled: Path) -> None:
    accounts = [
        name.split(".") for name, one in PERSONAL.items() if one.holds == "account" and one.with_person == "gone"
    ]
    with closing(open_database(filled)) as connection:
        for table, column in accounts:
            rowid = connection.execute(f"SELECT rowid FROM {table}").fetchone()[0]
            connection.execute(f"UPDATE {table} SET {column} = ? WHERE rowid = ?", (ACCOUNT, rowid))
    assert all(ACCOUNT in values(filled, table, column) for table, column in accounts)
    async with Store.open(filled, readers=1) as store, store.write() as db:
        for row in await db.rows("SELECT id FROM student WHERE platform_id = ?", ACCOUNT):
            await erase_person.forget_student(db, row["id"], "Student")
        for row in await db.rows("SELECT id FROM judge WHERE ? IN (platform_id, direct_id, room_id)", ACCOUNT):
            await erase_person.forget_judge(db, row["id"], ERASED.judge)
        for row in await db.rows("SELECT id FROM tryout"):
            await erase_person.forget_account(db, row["id"], ACCOUNT)
            for role in ("coach", "scorekeeper", "typist"):
                await helpers.remove_officer(db, row["id"], ACCOUNT, role)
    assert [f"{table}.{column}" for table, column in accounts if ACCOUNT in values(filled, table, column)] == []


NAME = "Zora Quillfeather"


async def test_a_name_is_cut_out_of_everything_that_other_people_wrote(filled: Path) -> None:
    columns_cut = [
        name.split(".") for name, one in PERSONAL.items() if one.holds == "words" and one.with_person == "cut"
    ]
    columns_cut.append(["hand_in", "reason"])
    with closing(open_database(filled)) as connection:
        connection.execute("DELETE FROM outbox_message")
        for table, column in columns_cut:
            text = f'{{"3": "As {NAME} said"}}' if column.endswith("_json") else f"As {NAME} said"
            connection.execute(f"UPDATE {table} SET {column} = ?", (text,))
    async with Store.open(filled, readers=1) as store, store.write() as db:
        for row in await db.rows("SELECT id FROM tryout"):
            await erase_person.forget_words(db, row["id"], {NAME}, ERASED.name)
    left = {f"{table}.{column}": values(filled, table, column) for table, column in columns_cut}
    assert {
        name: found for name, found in left.items() if NAME in str(found) or "As (erased) said" not in str(found)
    } == {}


async def test_a_text_that_is_hardly_more_than_a_name_is_no_hindrance(filled: Path) -> None:
    with closing(open_database(filled)) as connection:
        connection.execute("DELETE FROM outbox_message")
        connection.execute("UPDATE hand_in SET reason = 'Ada Lo did.'")
    async with Store.open(filled, readers=1) as store, store.write() as db:
        for row in await db.rows("SELECT id FROM tryout"):
            await erase_person.forget_words(db, row["id"], {"Ada Lo"}, ERASED.name)
    assert values(filled, "hand_in", "reason") == {"… did.…………"}

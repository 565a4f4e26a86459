"""`tenbell backup` and `tenbell restore`, as they are typed: what they print, and one sentence for each mistake."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from storage.lock import only_process
from storage.migrate import migrate
from tests.app.real_program import ROOT, tenbell


def database_in(folder: Path) -> Path:
    path = folder / "tenbell.db"
    migrate(path)
    return path


def add(database: Path, number: int) -> None:
    with closing(sqlite3.connect(database)) as connection, connection:
        connection.execute("INSERT INTO processed_interaction VALUES (?, '', '{}')", (number,))


def count(database: Path) -> int:
    with closing(sqlite3.connect(database)) as connection:
        return int(connection.execute("SELECT count(*) FROM processed_interaction").fetchone()[0])


def recipes(folder: Path) -> None:
    """Leave a database of something else in a folder."""
    with closing(sqlite3.connect(folder / "recipes.db")) as connection, connection:
        connection.execute("CREATE TABLE recipe (name TEXT)")


def copies(database: Path) -> list[str]:
    return sorted(path.name for path in database.with_name("tenbell.db.backups").glob("*.db"))


async def test_a_backup_is_saved_checked_and_named(tmp_path: Path) -> None:
    database = database_in(tmp_path)
    ended = await tenbell("backup", folder=tmp_path)
    assert (ended.code, ended.complained) == (0, "")
    (name,) = copies(database)
    assert ended.said == f"Saved and checked: {Path('tenbell.db.backups') / name}\n"


async def test_a_backup_can_be_taken_from_a_database_in_use(tmp_path: Path) -> None:
    database = database_in(tmp_path)
    with only_process(database):
        ended = await tenbell("backup", "--database", str(database), folder=tmp_path)
    assert ended.code == 0


async def test_a_fresh_backup_says_how_many_earlier_ones_are_gone(tmp_path: Path) -> None:
    database = database_in(tmp_path)
    old = tmp_path / "tenbell.db.backups" / "tenbell-2027-01-12T083000Z.db"
    old.parent.mkdir()
    old.write_bytes(database.read_bytes())
    ended = await tenbell("backup", "--fresh", folder=tmp_path)
    assert "The earlier one is deleted." in ended.said
    assert len(copies(database)) == 1 and old.name not in copies(database)


async def test_a_backup_of_nothing(tmp_path: Path) -> None:
    ended = await tenbell("backup", folder=tmp_path)
    assert ended.sentence() == "There is no file tenbell.db that I can read."


async def test_a_backup_of_a_damaged_database(tmp_path: Path) -> None:
    (tmp_path / "tenbell.db").write_bytes(b"a shopping list " * 500)
    ended = await tenbell("backup", folder=tmp_path)
    assert ended.sentence().startswith("tenbell.db is damaged.")


async def test_a_restore_names_what_it_kept_and_what_is_not_in_it(tmp_path: Path) -> None:
    database = database_in(tmp_path)
    await tenbell("backup", folder=tmp_path)
    (name,) = copies(database)
    add(database, 1)
    ended = await tenbell("restore", name, folder=tmp_path, TENBELL_DATABASE="tenbell.db")
    assert (ended.code, ended.complained) == (0, "")
    assert "What was entered after" in ended.said
    assert "-before-restore.db" in ended.said
    assert count(database) == 0


async def test_a_restore_names_the_backups_there_are_when_the_one_asked_for_is_not(tmp_path: Path) -> None:
    database = database_in(tmp_path)
    nothing = await tenbell("restore", "yesterday", folder=tmp_path)
    assert nothing.sentence() == "There is no backup yesterday, and none beside the database."
    await tenbell("backup", folder=tmp_path)
    ended = await tenbell("restore", "yesterday", folder=tmp_path)
    assert ended.sentence() == f"There is no backup yesterday. The newest are: {copies(database)[0]}."


async def test_a_restore_is_refused_while_the_bot_runs(tmp_path: Path) -> None:
    database = database_in(tmp_path)
    await tenbell("backup", folder=tmp_path)
    add(database, 1)
    with only_process(database):
        ended = await tenbell("restore", copies(database)[0], folder=tmp_path)
    assert ended.sentence().startswith("Another Tenbell is running on tenbell.db.")
    assert count(database) == 1


@pytest.mark.parametrize(("file", "said"), [("README.md", "is damaged"), ("recipes.db", "is not a Tenbell database")])
async def test_a_restore_of_something_else(tmp_path: Path, file: str, said: str) -> None:
    database_in(tmp_path)
    (tmp_path / "README.md").write_bytes((ROOT / "LICENSE").read_bytes())
    recipes(tmp_path)
    ended = await tenbell("restore", file, folder=tmp_path)
    assert ended.sentence().startswith(f"{file} {said}")

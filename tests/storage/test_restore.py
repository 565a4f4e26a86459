"""A restore, rehearsed with real files."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from storage.backup import backups, make_backup
from storage.database_file import check_database
from storage.file_errors import DamagedDatabase, StorageFault
from storage.lock import DatabaseInUse, only_process
from storage.migrate import NewerDatabase, migrate
from storage.restore import OtherDatabase, restore
from storage.store import Store
from tests.storage.test_backup import count, fill, room_for, spoil

NOW = datetime(2027, 1, 12, 8, 30, tzinfo=UTC)
LATER = NOW + timedelta(days=1)

CRASH = """
import os, sqlite3, sys
connection = sqlite3.connect(sys.argv[1], isolation_level=None)
connection.execute("PRAGMA journal_mode = WAL")
connection.execute("INSERT INTO processed_interaction VALUES (999, '', '{}')")
os._exit(1)
"""


@pytest.fixture
def database(tmp_path: Path) -> Path:
    path = tmp_path / "tenbell.db"
    migrate(path)
    fill(path, 0, 100, "x" * 100)
    return path


def tag(database: Path) -> str:
    with closing(sqlite3.connect(database)) as connection:
        return str(connection.execute("SELECT tag FROM database_identity").fetchone()[0])


def unchanged(database: Path) -> None:
    """Nothing but the database, its lock and its backups lies in the folder, and it holds what it held."""
    assert count(database) == 150
    names = {path.name for path in database.parent.iterdir()}
    assert names <= {"tenbell.db", "tenbell.db.lock", "tenbell.db.backups", "other.db"}


async def test_a_restored_database_holds_what_the_backup_held_and_the_bot_can_use_it(database: Path) -> None:
    backup = make_backup(database, NOW)
    fill(database, 100, 50)
    kept = restore(backup, database, LATER)
    assert count(database) == 100
    migrate(database)
    async with Store.open(database) as store:
        async with store.write() as db:
            await db.run("INSERT INTO processed_interaction VALUES (500, '', '{}')")
        async with store.read() as db:
            assert await db.value("SELECT count(*) FROM processed_interaction") == 101
    assert kept is not None and count(kept) == 150
    check_database(kept)
    assert count(backup) == 100


def test_a_restore_can_be_undone_by_another(database: Path) -> None:
    backup = make_backup(database, NOW)
    fill(database, 100, 50)
    kept = restore(backup, database, LATER)
    assert kept is not None and kept in [one.path for one in backups(database)]
    restore(kept, database, LATER + timedelta(minutes=1))
    assert count(database) == 150


def test_what_was_committed_just_before_a_crash_is_in_the_file_that_is_kept(database: Path) -> None:
    backup = make_backup(database, NOW)
    subprocess.run([sys.executable, "-c", CRASH, str(database)], check=False)
    assert database.with_name("tenbell.db-wal").stat().st_size > 0, "the check needs a log that was left behind"
    kept = restore(backup, database, LATER)
    assert count(database) == 100
    check_database(database)
    assert kept is not None and count(kept) == 101


def test_messages_queued_after_a_restore_cannot_pass_for_those_sent_before(database: Path) -> None:
    backup = make_backup(database, NOW)
    before = tag(database)
    restore(backup, database, LATER)
    assert tag(database) != before
    assert tag(backup) == before


def test_a_damaged_database_is_replaced_and_kept_as_it_is(database: Path) -> None:
    backup = make_backup(database, NOW)
    spoil(database)
    spoilt = database.read_bytes()
    kept = restore(backup, database, LATER)
    assert count(database) == 100
    assert kept is not None and kept.read_bytes() == spoilt


def test_a_lost_database_comes_back(database: Path) -> None:
    backup = make_backup(database, NOW)
    database.unlink()
    database.with_name("tenbell.db-wal").write_bytes(b"what a lost file left behind")
    assert restore(backup, database, LATER) is None
    assert count(database) == 100
    assert not database.with_name("tenbell.db-wal").exists()


def test_a_running_database_is_not_replaced(database: Path) -> None:
    backup = make_backup(database, NOW)
    fill(database, 100, 50)
    with only_process(database), pytest.raises(DatabaseInUse):
        restore(backup, database, LATER)
    unchanged(database)


def test_a_damaged_backup_is_refused(database: Path) -> None:
    backup = make_backup(database, NOW)
    fill(database, 100, 50)
    spoil(backup)
    with pytest.raises(DamagedDatabase):
        restore(backup, database, LATER)
    unchanged(database)


def test_a_backup_cut_short_is_refused(database: Path) -> None:
    backup = make_backup(database, NOW)
    fill(database, 100, 50)
    backup.write_bytes(backup.read_bytes()[:-5000])
    with pytest.raises(DamagedDatabase):
        restore(backup, database, LATER)
    unchanged(database)


def test_a_backup_of_a_newer_version_is_refused(database: Path) -> None:
    backup = make_backup(database, NOW)
    fill(database, 100, 50)
    with closing(sqlite3.connect(backup)) as connection, connection:
        connection.execute("PRAGMA user_version = 999")
    with pytest.raises(NewerDatabase):
        restore(backup, database, LATER)
    unchanged(database)


def test_a_database_of_something_else_is_refused(database: Path) -> None:
    fill(database, 100, 50)
    other = database.with_name("other.db")
    with closing(sqlite3.connect(other)) as connection, connection:
        connection.execute("CREATE TABLE recipe (name TEXT)")
    with pytest.raises(OtherDatabase):
        restore(other, database, LATER)
    unchanged(database)


def test_a_full_disk_leaves_the_database_as_it_was(database: Path) -> None:
    fill(database, 100, 50)
    big = database.with_name("other.db")
    migrate(big)
    fill(big, 0, 3000, "x" * 200)
    with room_for(200_000), pytest.raises(StorageFault):
        restore(big, database, LATER)
    unchanged(database)


def test_a_backup_that_is_not_there_is_one_plain_fault(database: Path) -> None:
    fill(database, 100, 50)
    with pytest.raises(StorageFault):
        restore(database.with_name("absent.db"), database, LATER)
    unchanged(database)

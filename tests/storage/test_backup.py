"""Backups with real files: whole, sound, private, and nothing erased is left in them."""

import asyncio
import os
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from storage.backup import (
    backups,
    folder_of,
    last_backup,
    make_backup,
    make_nightly_backup,
    make_only_backup,
    place_for,
)
from storage.database_file import check_database, copy_database
from storage.file_errors import DamagedDatabase, StorageFault
from storage.migrate import migrate
from storage.store import Store

NOW = datetime(2027, 1, 12, 8, 30, tzinfo=UTC)


@pytest.fixture
def database(tmp_path: Path) -> Path:
    path = tmp_path / "tenbell.db"
    migrate(path)
    return path


def fill(database: Path, first: int, rows: int, text: str = "") -> None:
    with closing(sqlite3.connect(database)) as connection, connection:
        connection.executemany(
            "INSERT INTO processed_interaction VALUES (?, ?, '{}')",
            [(number, text) for number in range(first, first + rows)],
        )


def count(database: Path) -> int:
    with closing(sqlite3.connect(database)) as connection:
        return int(connection.execute("SELECT count(*) FROM processed_interaction").fetchone()[0])


def holds(database: Path, text: str) -> bool:
    """Whether the bytes of a text stand anywhere in a file."""
    return text.encode() in database.read_bytes()


def spoil(database: Path) -> None:
    """Overwrite the middle of a database, as a dying disk does."""
    with database.open("r+b") as file:
        file.seek(5000)
        file.write(b"\xa5" * (database.stat().st_size - 9000))


@contextmanager
def room_for(octets: int) -> Iterator[None]:
    """Let no file of this process grow beyond this, as a full disk would not."""
    resource = pytest.importorskip("resource", reason="only POSIX limits the size of files")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (octets, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_a_backup_holds_everything_and_says_when_it_was_made(database: Path) -> None:
    fill(database, 0, 100)
    made = make_backup(database, NOW)
    assert made == database.parent / "tenbell.db.backups" / "tenbell-2027-01-12T083000Z.db"
    assert count(made) == 100
    check_database(made)
    assert last_backup(database) == NOW


@pytest.mark.skipif(os.name != "posix", reason="modes of files are a matter of POSIX")
def test_only_the_owner_can_read_backups(database: Path) -> None:
    made = make_backup(database, NOW)
    assert made.stat().st_mode & 0o777 == 0o600
    assert folder_of(database).stat().st_mode & 0o777 == 0o700


async def test_a_backup_made_while_writers_write_is_one_whole_moment(database: Path) -> None:
    """Each transaction writes two rows; no backup may hold one of them alone, and no writer has to wait for it."""
    async with Store.open(database) as store:
        await store._writer.execute("PRAGMA busy_timeout = 0")
        done = asyncio.Event()

        async def write() -> None:
            number = 0
            while not done.is_set():
                number += 2
                async with store.write() as db:
                    await db.run("INSERT INTO processed_interaction VALUES (?, ?, '{}')", number, "x" * 2000)
                    await db.run("INSERT INTO processed_interaction VALUES (?, ?, '{}')", number + 1, "x" * 2000)

        writing = asyncio.create_task(write())
        seen = []
        for second in range(8):
            await asyncio.sleep(0.02)
            made = await asyncio.to_thread(make_backup, database, NOW + timedelta(seconds=second))
            check_database(made)
            seen.append(count(made))
        done.set()
        await writing
    assert all(rows % 2 == 0 for rows in seen)
    assert seen == sorted(seen)
    assert seen[-1] > seen[0]


def test_nothing_that_was_erased_is_left_in_a_backup(database: Path) -> None:
    fill(database, 0, 50, "Odalys Fennimore")
    with closing(sqlite3.connect(database)) as connection, connection:
        connection.execute("PRAGMA secure_delete = OFF")
        connection.execute("DELETE FROM processed_interaction")
    assert holds(database, "Odalys Fennimore"), "the check needs a database with leftovers"
    assert not holds(make_backup(database, NOW), "Odalys Fennimore")


async def test_the_store_itself_leaves_nothing_erased_in_the_file(database: Path) -> None:
    async with Store.open(database) as store:
        async with store.write() as db:
            for number in range(50):
                await db.run("INSERT INTO processed_interaction VALUES (?, 'Odalys Fennimore', '{}')", number)
        async with store.write() as db:
            await db.run("DELETE FROM processed_interaction")
    assert not holds(database, "Odalys Fennimore")


def test_nightly_backups_rotate_and_one_made_by_hand_stays_until_the_night(database: Path) -> None:
    for night in range(40):
        now = NOW + timedelta(days=night)
        make_nightly_backup(database, now)
        make_backup(database, now + timedelta(hours=10))
        assert last_backup(database) == now + timedelta(hours=10)
    made = make_nightly_backup(database, NOW + timedelta(days=40))
    found = [one.path for one in backups(database)]
    assert found[0] == made
    assert 7 + 2 <= len(found) <= 7 + 4
    assert len({path.name for path in found}) == len(found)


def test_what_was_kept_before_a_change_goes_after_four_weeks(database: Path) -> None:
    aside = place_for(database, NOW, before="restore")
    copy_database(database, aside)
    make_nightly_backup(database, NOW + timedelta(days=27))
    assert aside.exists()
    make_nightly_backup(database, NOW + timedelta(days=28))
    assert not aside.exists()


def test_a_fresh_backup_leaves_no_other_copy(database: Path) -> None:
    for night in range(5):
        make_nightly_backup(database, NOW + timedelta(days=night))
    copy_database(database, place_for(database, NOW, before="version-2"))
    stranger = folder_of(database) / "read me.txt"
    stranger.write_text("not a backup", "utf-8")
    made, deleted = make_only_backup(database, NOW + timedelta(days=5))
    assert deleted == 6
    assert sorted(folder_of(database).iterdir()) == sorted([made, stranger])


def test_a_damaged_database_does_not_replace_a_good_backup(database: Path) -> None:
    fill(database, 0, 500, "x" * 100)
    good = make_nightly_backup(database, NOW)
    spoil(database)
    with pytest.raises(DamagedDatabase):
        make_nightly_backup(database, NOW + timedelta(days=1))
    with pytest.raises(DamagedDatabase):
        make_only_backup(database, NOW + timedelta(days=1))
    assert [one.path for one in backups(database)] == [good]
    check_database(good)
    assert [path.name for path in folder_of(database).iterdir()] == [good.name]


def test_a_full_disk_leaves_earlier_backups_and_no_half_one(database: Path) -> None:
    fill(database, 0, 3000, "x" * 200)
    good = make_backup(database, NOW)
    with room_for(200_000), pytest.raises(StorageFault):
        make_nightly_backup(database, NOW + timedelta(days=1))
    assert [path.name for path in folder_of(database).iterdir()] == [good.name]
    check_database(good)
    make_nightly_backup(database, NOW + timedelta(days=1))


def test_a_backup_cut_off_by_a_crash_is_cleared_away_later(database: Path) -> None:
    half = place_for(database, NOW).with_suffix(".db.1.part")
    half.write_bytes(b"half of it")
    make_nightly_backup(database, NOW)
    assert half.exists(), "another process might still be writing it"
    two_days_ago = datetime.now(UTC).timestamp() - 2 * 86_400
    os.utime(half, (two_days_ago, two_days_ago))
    make_nightly_backup(database, NOW + timedelta(days=1))
    assert not half.exists()


def test_a_backup_of_nothing_makes_nothing(tmp_path: Path) -> None:
    with pytest.raises(StorageFault):
        make_backup(tmp_path / "absent.db", NOW)
    assert not (tmp_path / "absent.db").exists()


def test_something_that_is_no_database_is_called_damaged(tmp_path: Path) -> None:
    other = tmp_path / "other.db"
    other.write_bytes(b"a shopping list " * 500)
    with pytest.raises(DamagedDatabase):
        check_database(other)


@pytest.mark.skipif(sys.platform == "win32", reason="a folder cannot be shut there in this way")
def test_a_folder_that_is_a_file_is_one_plain_fault(database: Path) -> None:
    folder_of(database).write_text("in the way", "utf-8")
    with pytest.raises(StorageFault):
        make_backup(database, NOW)

"""The store, against a real SQLite file."""

import ast
import asyncio
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from storage.lock import DatabaseInUse, only_process
from storage.migrate import migrate
from storage.store import StorageFault, Store
from storage.tables.sql_session import Conflict, Transaction, only_table_of
from tests.databases import new_database, new_store
from tests.storage.conftest import ADDED, WAYS, Add, add, count
from tests.storage.filled_database import contents, schema

ROOT = Path(__file__).resolve().parents[2]


async def test_a_transaction_that_raises_leaves_nothing(store: Store) -> None:
    with pytest.raises(RuntimeError):
        async with store.write() as db:
            await db.run("INSERT INTO processed_interaction VALUES (1, '', '{}')")
            raise RuntimeError
    assert await count(store) == 0


async def test_a_cancelled_transaction_leaves_nothing_and_the_next_one_works(store: Store) -> None:
    entered = asyncio.Event()

    async def slow() -> None:
        async with store.write() as db:
            await db.run("INSERT INTO processed_interaction VALUES (1, '', '{}')")
            entered.set()
            await asyncio.sleep(60)

    task = asyncio.create_task(slow())
    await entered.wait()
    task.cancel()
    with pytest.raises(asyncio.CancelledError):
        await task
    await add(store, 2)
    assert await count(store) == 1


@WAYS
async def test_many_tasks_take_turns_and_all_are_kept(add: Add, store: Store) -> None:
    await asyncio.gather(*(add(store, number) for number in range(60)))
    assert await count(store) == 60


def open_files() -> list[str]:
    """The names of the files that this process has open."""
    return [str(one.readlink()) for one in Path("/proc/self/fd").iterdir() if one.is_symlink()]


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="only there a program is told its open files")
async def test_what_a_transaction_could_undo_is_written_into_no_other_file(store: Store) -> None:
    async def fill(db: Transaction) -> None:
        for number in range(100):
            await db.run("INSERT INTO processed_interaction VALUES (?, '', hex(zeroblob(2000)))", number)

    async def change(db: Transaction) -> list[str]:
        await db.run("UPDATE processed_interaction SET answer_json = hex(randomblob(2000))")
        return open_files()

    await store.transact(fill)
    assert not [name for name in await store.transact(change) if "etilqs" in name]


async def test_a_reader_sees_the_moment_it_began(store: Store) -> None:
    async with store.read() as db:
        before = await db.value("SELECT count(*) FROM processed_interaction")
        await add(store, 1)
        assert await db.value("SELECT count(interaction_id) FROM processed_interaction") == before
    assert await count(store) == 1


async def test_what_is_asked_twice_is_read_once_until_something_is_written(tmp_path: Path) -> None:
    run: list[str] = []
    asked = "SELECT count(*) FROM processed_interaction WHERE interaction_id > ?"
    async with Store.open(new_database(tmp_path / "a.db"), durable=False, trace=run.append) as store:

        async def ask(db: Transaction, least: int) -> tuple[int, int]:
            await db.value("SELECT tag FROM database_identity")
            before = len(run)
            await db.value("SELECT tag FROM database_identity")
            return int(await db.value(asked, least)), len(run) - before

        async def work(db: Transaction) -> list[tuple[int, int]]:
            first = [await ask(db, 0), await ask(db, 0), await ask(db, 5)]
            await db.run("INSERT INTO processed_interaction VALUES (1, '', '{}')")
            with pytest.raises(RuntimeError):
                async with db.undoable():
                    await db.run("INSERT INTO processed_interaction VALUES (2, '', '{}')")
                    first += [await ask(db, 0)]
                    raise RuntimeError
            return [*first, await ask(db, 0)]

        assert await store.transact(work) == [(0, 1), (0, 0), (0, 1), (2, 1), (1, 1)]


async def test_a_reader_cannot_write(store: Store) -> None:
    with pytest.raises(StorageFault):
        async with store.read() as db:
            await db.rows("INSERT INTO processed_interaction VALUES (1, '', '{}')")
    assert await count(store) == 0


async def test_a_part_can_be_undone_alone(store: Store) -> None:
    async with store.write() as db:
        await db.run("INSERT INTO processed_interaction VALUES (1, '', '{}')")
        with pytest.raises(RuntimeError):
            async with db.undoable():
                await db.run("INSERT INTO processed_interaction VALUES (2, '', '{}')")
                raise RuntimeError
    assert await count(store) == 1


@WAYS
async def test_a_broken_constraint_is_a_conflict(add: Add, store: Store) -> None:
    await add(store, 1)
    with pytest.raises(Conflict):
        await add(store, 1)


@WAYS
async def test_listeners_hear_commits_only(add: Add, store: Store) -> None:
    heard: list[int] = []
    store.on_commit(lambda: heard.append(1))
    await add(store, 1)
    with pytest.raises(Conflict):
        await add(store, 1)
    assert heard == [1]


async def test_a_look_is_a_snapshot_too_and_cannot_write(store: Store) -> None:
    await add(store, 1)
    assert await store.look(lambda db: db.value("SELECT count(*) FROM processed_interaction")) == 1
    with pytest.raises(StorageFault):
        await store.look(lambda db: db.rows(ADDED, 2))
    assert await count(store) == 1


async def test_a_look_sees_what_another_program_wrote_after_us(tmp_path: Path) -> None:
    path, asked = new_database(tmp_path / "a.db"), "SELECT count(*) FROM squad_draw"
    ours = "INSERT INTO processed_interaction VALUES (?, '', '{}')"
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("CREATE TABLE squad_draw (number)")
        async with Store.open(path, durable=False) as store:
            await store.look(lambda db: db.value(asked))
            await store.transact(lambda db: db.run(ours, 1))
            await store.look(lambda db: db.value(asked))
            await store.transact(lambda db: db.run(ours, 2))
            other.execute("INSERT INTO squad_draw VALUES (1)")
            assert await store.look(lambda db: db.value(asked)) == 1


@WAYS
async def test_another_program_that_writes_is_waited_for_without_stopping_the_loop(add: Add, tmp_path: Path) -> None:
    path = new_database(tmp_path / "a.db")
    async with Store.open(path) as store:
        with closing(sqlite3.connect(path, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            waiting = asyncio.create_task(add(store, 1))
            for _ in range(5):
                await asyncio.sleep(0.01)
            assert not waiting.done()
            other.execute("COMMIT")
        await waiting
        assert await count(store) == 1


async def test_what_is_acknowledged_is_on_the_disk_unless_a_check_asks_otherwise(tmp_path: Path, store: Store) -> None:
    """The numbers are SQLite's: 0 is OFF, 2 is FULL."""
    async with store.write() as db:
        assert await db.value("PRAGMA synchronous") == 2
        assert await db.value("PRAGMA journal_mode") == "wal"
        assert await db.value("PRAGMA foreign_keys") == 1
        assert await db.value("PRAGMA secure_delete") == 1
    async with new_store(tmp_path / "other.db") as other, other.write() as db:
        assert await db.value("PRAGMA synchronous") == 0
        assert await db.value("PRAGMA journal_mode") == "wal"
        assert await db.value("PRAGMA foreign_keys") == 1


@pytest.mark.parametrize("floor", ["bot", "storage", "deploy"])
def test_only_checks_ask_for_a_store_that_does_not_wait_for_the_disk(floor: str) -> None:
    calls = [
        (path.name, node.lineno)
        for path in (ROOT / floor).rglob("*.py")
        for node in ast.walk(ast.parse(path.read_bytes()))
        if isinstance(node, ast.Call) and any(one.arg == "durable" for one in node.keywords)
    ]
    assert calls == []


def test_a_copied_database_is_one_that_all_migrations_made(tmp_path: Path) -> None:
    copied, migrated = new_database(tmp_path / "a.db"), tmp_path / "b.db"
    assert migrate(migrated) == migrate(copied)
    assert schema(copied) == schema(migrated)
    assert {table: len(rows) for table, rows in contents(copied).items()} == {
        table: len(rows) for table, rows in contents(migrated).items()
    }


async def test_a_full_disk_is_one_plain_fault_and_changes_nothing(store: Store) -> None:
    async with store.write() as db:
        pages = await db.value("PRAGMA page_count")
        await db.rows(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(StorageFault, match="full"):
        async with store.write() as db:
            await db.run("INSERT INTO processed_interaction VALUES (1, '', ?)", "x" * 5_000_000)
    assert await count(store) == 0
    await add(store, 2)


def test_a_database_serves_one_process(tmp_path: Path) -> None:
    path = tmp_path / "a.db"
    with only_process(path), pytest.raises(DatabaseInUse), only_process(path):
        pass
    with only_process(path):
        pass


def test_a_row_written_takes_no_other_table_along(tmp_path: Path) -> None:
    """A transaction reads only what may have changed anew after it wrote: see `only_table_of`."""
    with closing(sqlite3.connect(new_database(tmp_path / "a.db"))) as connection:
        made = [(row[0], row[1] or "") for row in connection.execute("SELECT type, sql FROM sqlite_master")]
    assert not [sql for kind, sql in made if kind in ("trigger", "view") or "ON UPDATE" in sql.upper()]
    assert only_table_of("INSERT INTO squad (id) VALUES (?)") == only_table_of("UPDATE squad SET id = 1") == "squad"
    assert only_table_of("UPDATE OR IGNORE squad SET id = 1") == "squad"
    assert only_table_of("UPDATE OR REPLACE squad SET id = 1") is None
    assert only_table_of("INSERT OR REPLACE INTO squad VALUES (1)") is only_table_of("DELETE FROM squad") is None

"""The store, against a real SQLite file."""

import ast
import asyncio
import sqlite3
from collections.abc import AsyncIterator
from contextlib import closing
from pathlib import Path

import pytest

from storage.lock import DatabaseInUse, only_process
from storage.migrate import migrate
from storage.store import StorageFault, Store
from storage.tables.sql_session import Conflict
from tests.databases import new_database, new_store
from tests.storage.filled import contents, schema

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
async def store(tmp_path: Path) -> AsyncIterator[Store]:
    path = tmp_path / "tenbell.db"
    migrate(path)
    async with Store.open(path) as opened:
        yield opened


async def count(store: Store) -> int:
    async with store.read() as db:
        return int(await db.value("SELECT count(*) FROM processed_interaction"))


async def add(store: Store, number: int) -> None:
    async with store.write() as db:
        await db.run("INSERT INTO processed_interaction VALUES (?, '', '{}')", number)


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


async def test_many_tasks_take_turns_and_all_are_kept(store: Store) -> None:
    await asyncio.gather(*(add(store, number) for number in range(60)))
    assert await count(store) == 60


async def test_a_reader_sees_the_moment_it_began(store: Store) -> None:
    async with store.read() as db:
        before = await db.value("SELECT count(*) FROM processed_interaction")
        await add(store, 1)
        assert await db.value("SELECT count(*) FROM processed_interaction") == before
    assert await count(store) == 1


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


async def test_a_broken_constraint_is_a_conflict(store: Store) -> None:
    await add(store, 1)
    with pytest.raises(Conflict):
        await add(store, 1)


async def test_listeners_hear_commits_only(store: Store) -> None:
    heard: list[int] = []
    store.on_commit(lambda: heard.append(1))
    await add(store, 1)
    with pytest.raises(Conflict):
        await add(store, 1)
    assert heard == [1]


async def test_transactions_that_wait_for_their_turn_share_a_commit_and_each_is_on_the_disk_when_it_returns(
    tmp_path: Path,
) -> None:
    run: list[str] = []
    path = new_database(tmp_path / "a.db")
    async with Store.open(path, trace=run.append) as store:

        async def add_and_look(number: int) -> bool:
            await add(store, number)
            with closing(sqlite3.connect(path)) as other:
                return (
                    other.execute("SELECT 1 FROM processed_interaction WHERE interaction_id = ?", [number]).fetchone()
                    is not None
                )

        assert all(await asyncio.gather(*(add_and_look(number) for number in range(60))))
        assert await count(store) == 60
    assert run.count("COMMIT") < 10


async def test_one_that_raises_takes_nobody_with_it_who_shares_its_commit(store: Store) -> None:
    await add(store, 7)
    done = await asyncio.gather(*(add(store, number) for number in (1, 7, 2, 7, 3)), return_exceptions=True)
    assert [type(one) for one in done] == [type(None), Conflict, type(None), Conflict, type(None)]
    assert await count(store) == 4


async def test_a_commit_that_fails_is_a_fault_for_everybody_in_it_and_keeps_nothing(store: Store) -> None:
    heard: list[int] = []
    store.on_commit(lambda: heard.append(1))

    async def dangling(number: int) -> None:
        """A squad whose captain is nobody: SQLite checks that at the commit."""
        async with store.write() as db:
            tryout = "(id, server_id, state, plan_json, created_at)"
            await db.run(f"INSERT INTO tryout {tryout} VALUES (?, 1, 'signup', '{{}}', '')", number)
            columns = "(tryout_id, number, name, folded, skeleton, section, captain_id, join_code, created_at)"
            await db.run(f"INSERT INTO squad {columns} VALUES (?, 1, '', '', '', '', 99, '', '')", number)

    done = await asyncio.gather(add(store, 1), dangling(1), add(store, 2), return_exceptions=True)
    assert [type(one) for one in done] == [StorageFault] * 3
    assert heard == []
    assert await count(store) == 0
    await add(store, 3)
    assert await count(store) == 1


async def test_a_disk_that_is_full_in_the_middle_of_a_group_is_told_to_all_of_it(store: Store) -> None:
    async with store.write() as db:
        pages = await db.value("PRAGMA page_count")
        await db.rows(f"PRAGMA max_page_count = {pages}")

    async def large() -> None:
        async with store.write() as db:
            await db.run("INSERT INTO processed_interaction VALUES (1, '', ?)", "x" * 5_000_000)

    done = await asyncio.gather(add(store, 2), large(), add(store, 3), return_exceptions=True)
    kept = [number for number, one in zip((2, 1, 3), done, strict=True) if one is None]
    assert isinstance(done[1], StorageFault)
    assert await count(store) == len(kept)
    await add(store, 4)


async def test_a_transaction_whose_task_is_cancelled_while_it_is_written_to_the_disk_is_whole_or_not_there(
    store: Store,
) -> None:
    tasks = [asyncio.create_task(add(store, number)) for number in range(20)]
    await asyncio.sleep(0)
    tasks[3].cancel()
    done = await asyncio.gather(*tasks, return_exceptions=True)
    assert [index for index, one in enumerate(done) if one is not None] == [3]
    assert await count(store) in (19, 20)


async def test_once_a_cancelled_task_is_over_so_is_its_transaction(store: Store) -> None:
    task = asyncio.create_task(add(store, 1))
    await asyncio.sleep(0)
    task.cancel()
    await asyncio.wait([task])
    before = await count(store)
    await add(store, 2)
    assert await count(store) == before + 1


async def test_another_program_that_writes_is_waited_for_without_stopping_the_loop(tmp_path: Path) -> None:
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

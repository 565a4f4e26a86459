"""Transactions that share a commit, against a real SQLite file."""

import asyncio
import sqlite3
import threading
from contextlib import closing
from functools import partial
from pathlib import Path

import pytest

from storage.store import StorageFault, Store
from storage.tables.sql_session import Conflict, Transaction
from tests.databases import new_database
from tests.storage.conftest import ADDED, WAYS, Add, add, add_at_once, count


@WAYS
async def test_transactions_that_wait_for_their_turn_share_a_commit_and_each_is_on_the_disk_when_it_returns(
    add: Add,
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


@WAYS
async def test_one_that_raises_takes_nobody_with_it_who_shares_its_commit(add: Add, store: Store) -> None:
    await add(store, 7)
    done = await asyncio.gather(*(add(store, number) for number in (1, 7, 2, 7, 3)), return_exceptions=True)
    assert [type(one) for one in done] == [type(None), Conflict, type(None), Conflict, type(None)]
    assert await count(store) == 4


@WAYS
async def test_a_commit_that_fails_is_a_fault_for_everybody_in_it_and_keeps_nothing(add: Add, store: Store) -> None:
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


@WAYS
async def test_a_disk_that_is_full_in_the_middle_of_a_group_is_told_to_all_of_it(add: Add, store: Store) -> None:
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


@WAYS
async def test_a_transaction_whose_task_is_cancelled_while_it_is_written_to_the_disk_is_whole_or_not_there(
    add: Add,
    store: Store,
) -> None:
    tasks = [asyncio.create_task(add(store, number)) for number in range(20)]
    await asyncio.sleep(0)
    tasks[3].cancel()
    done = await asyncio.gather(*tasks, return_exceptions=True)
    assert [index for index, one in enumerate(done) if one is not None] == [3]
    assert await count(store) in (19, 20)


@WAYS
async def test_once_a_cancelled_task_is_over_so_is_its_transaction(add: Add, store: Store) -> None:
    task = asyncio.create_task(add(store, 1))
    await asyncio.sleep(0)
    task.cancel()
    await asyncio.wait([task])
    before = await count(store)
    await add(store, 2)
    assert await count(store) == before + 1


async def test_all_that_waits_is_done_in_one_hop_and_sees_what_was_done_before_it(store: Store) -> None:
    threads = set()

    async def count_and_add(db: Transaction, number: int) -> int:
        threads.add(threading.get_ident())
        await db.run(ADDED, number)
        return int(await db.value("SELECT count(*) FROM processed_interaction"))

    asked = [store.transact(partial(count_and_add, number=number)) for number in range(60)]
    assert await asyncio.gather(*asked) == list(range(1, 61))
    assert len(threads) == 1
    assert threading.get_ident() not in threads


async def test_a_full_disk_in_one_hop_is_a_fault_for_all_that_share_it(store: Store) -> None:
    async with store.write() as db:
        pages = await db.value("PRAGMA page_count")
        await db.rows(f"PRAGMA max_page_count = {pages}")
    large = store.transact(lambda db: db.run("INSERT INTO processed_interaction VALUES (1, '', ?)", "x" * 5_000_000))
    done = await asyncio.gather(
        add_at_once(store, 2), large, add_at_once(store, 3), add(store, 4), return_exceptions=True
    )
    kept = [number for number, one in zip((2, 1, 3, 4), done, strict=True) if one is None]
    assert isinstance(done[1], StorageFault)
    assert await count(store) == len(kept)
    await add_at_once(store, 5)


async def test_work_that_waits_for_anything_else_is_refused_and_undone(store: Store) -> None:
    async def dawdle(db: Transaction) -> None:
        await db.run(ADDED, 1)
        await asyncio.sleep(0)

    with pytest.raises(RuntimeError, match="waited"):
        await store.transact(dawdle)
    assert await count(store) == 0


async def test_what_is_cancelled_while_it_waits_for_its_turn_is_not_done(store: Store) -> None:
    async with store.write():
        waiting = asyncio.create_task(add_at_once(store, 1))
        await asyncio.sleep(0)
        waiting.cancel()
        with pytest.raises(asyncio.CancelledError):
            await waiting
    assert await count(store) == 0


async def test_nor_is_what_is_cancelled_while_somebody_else_holds_the_file(store: Store, tmp_path: Path) -> None:
    """The thread of the database is in the middle of the hop by then, waiting for the file."""
    with closing(sqlite3.connect(tmp_path / "tenbell.db", isolation_level=None)) as busy:
        busy.execute("BEGIN IMMEDIATE")
        waiting = asyncio.create_task(add_at_once(store, 1))
        await asyncio.sleep(0.05)
        waiting.cancel()
        await asyncio.sleep(0)
        busy.execute("ROLLBACK")
        with pytest.raises(asyncio.CancelledError):
            await waiting
    assert await count(store) == 0
    await add_at_once(store, 2)
    assert await count(store) == 1


@pytest.mark.parametrize("way", ["together", "one by one"])
async def test_what_is_wanted_before_the_commit_is_done_once_for_all_that_share_it(store: Store, way: str) -> None:
    seen: list[int] = []

    async def look(db: Transaction) -> None:
        seen.append(int(await db.value("SELECT count(*) FROM processed_interaction")))

    async def add_and_wish(db: Transaction, number: int) -> None:
        db.before_commit("look", look)
        await db.run(ADDED, number)

    if way == "together":
        wishes = (store.transact(partial(add_and_wish, number=number)) for number in range(20))
        await asyncio.gather(*wishes)
        assert seen == [20]
        return
    for number in range(2):
        async with store.write() as db:
            await add_and_wish(db, number)
    assert seen == [1, 2]


async def test_what_fails_before_the_commit_keeps_nothing_of_the_group(store: Store) -> None:
    async def fail(db: Transaction) -> None:
        await db.run("INSERT INTO nowhere VALUES (1)")

    async def add_and_wish(db: Transaction) -> None:
        db.before_commit("fail", fail)
        await db.run(ADDED, 1)

    done = await asyncio.gather(add_at_once(store, 2), store.transact(add_and_wish), return_exceptions=True)
    assert [type(one) for one in done] == [StorageFault] * 2
    assert await count(store) == 0
    await add_at_once(store, 3)


@WAYS
async def test_a_transaction_leaves_the_file_waiting_for_the_disk_at_each_commit(add: Add, tmp_path: Path) -> None:
    async with Store.open(new_database(tmp_path / "a.db")) as store:
        await add(store, 1)
        async with store.write() as db:
            assert await db.value("PRAGMA synchronous") == 2, "FULL"

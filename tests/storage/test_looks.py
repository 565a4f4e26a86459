"""What is looked at is read once and kept while it does not change, against a real SQLite file."""

import asyncio
import sqlite3
from contextlib import closing
from functools import partial
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storage.store import Store
from storage.tables.sql_session import Snapshot, Transaction
from tests.databases import new_database

ANSWERS = "SELECT count(*) FROM processed_interaction"
OTHERS = "SELECT count(*) FROM other"
ANSWER = "INSERT INTO processed_interaction VALUES (?, '', '{}')"
OTHER = "INSERT INTO other VALUES (?)"


def two_tables(path: Path) -> Path:
    with closing(sqlite3.connect(new_database(path))) as connection:
        connection.execute("CREATE TABLE other (number)")
    return path


async def both(db: Snapshot) -> tuple[int, int]:
    return int(await db.value(ANSWERS)), int(await db.value(OTHERS))


async def test_what_has_not_changed_is_not_read_again(tmp_path: Path) -> None:
    run: list[str] = []
    async with Store.open(two_tables(tmp_path / "a.db"), durable=False, trace=run.append) as store:
        assert [await store.look(both), await store.look(both)] == [(0, 0)] * 2
        assert (run.count(ANSWERS), run.count(OTHERS)) == (1, 1)
        await store.transact(lambda db: db.run(ANSWER, 1))
        assert await store.look(both) == (1, 0)
        assert run.count(ANSWERS) == 2
        others = run.count(OTHERS)
        await store.transact(lambda db: db.run(ANSWER, 2))
        assert await store.look(both) == (2, 0)
        assert run.count(OTHERS) == others, "nothing was written there"
        await store.transact(lambda db: db.run("DELETE FROM other WHERE number = 7"))
        assert await store.look(both) == (2, 0)
        assert (run.count(ANSWERS), run.count(OTHERS)) == (3, others), "nothing was deleted"


KINDS = ["look", "answer", "other", "both", "undone", "block", "another program"]
STEPS = st.lists(st.sampled_from(KINDS), max_size=12)


@given(STEPS)
def test_a_look_never_misses_a_change_whoever_made_it(
    tmp_path_factory: pytest.TempPathFactory, steps: list[str]
) -> None:
    path = two_tables(tmp_path_factory.mktemp("looks") / "a.db")

    async def play() -> None:
        numbers = iter(range(1, 100))

        async def add(db: Transaction, *statements: str) -> None:
            for sql in statements:
                await db.run(sql, next(numbers))

        async def undone(db: Transaction) -> None:
            await add(db, ANSWER, OTHER)
            raise RuntimeError

        with closing(sqlite3.connect(path, isolation_level=None)) as other:
            async with Store.open(path, durable=False) as store:
                for step in steps:
                    match step:
                        case "look":
                            pass
                        case "answer":
                            await store.transact(lambda db: add(db, ANSWER))
                        case "other":
                            await store.transact(lambda db: add(db, OTHER))
                        case "both":
                            await asyncio.gather(
                                store.transact(lambda db: add(db, ANSWER)), store.transact(lambda db: add(db, OTHER))
                            )
                        case "undone":
                            with pytest.raises(RuntimeError):
                                await store.transact(undone)
                        case "block":
                            async with store.write() as db:
                                await add(db, ANSWER)
                                await store.look(both)
                                await add(db, OTHER)
                                await store.look(both)
                        case _:
                            other.execute(ANSWER, (next(numbers),))
                            other.execute(OTHER, (next(numbers),))
                    true = tuple(other.execute(sql).fetchone()[0] for sql in (ANSWERS, OTHERS))
                    assert await store.look(both) == true

    asyncio.run(play())


async def test_looks_while_something_is_written_see_one_moment_each(tmp_path: Path) -> None:
    async with Store.open(two_tables(tmp_path / "a.db"), durable=False) as store:

        async def add(db: Transaction, number: int) -> None:
            await db.run(ANSWER, number)
            await db.run(OTHER, number)

        writing = [asyncio.create_task(store.transact(partial(add, number=number))) for number in range(60)]
        seen = []
        while not all(one.done() for one in writing):
            seen.append(await store.look(both))
            await asyncio.sleep(0)
        assert await store.look(both) == (60, 60)
        assert all(answers == others for answers, others in seen)
        assert seen == sorted(seen)

"""A store on a real file, and the ways to add a row to it."""

from collections.abc import AsyncIterator, Callable, Coroutine
from pathlib import Path
from typing import Any

import pytest

from storage.migrate import migrate
from storage.store import Store


@pytest.fixture
async def store(tmp_path: Path) -> AsyncIterator[Store]:
    path = tmp_path / "tenbell.db"
    migrate(path)
    async with Store.open(path) as opened:
        yield opened


async def count(store: Store) -> int:
    async with store.read() as db:
        return int(await db.value("SELECT count(*) FROM processed_interaction"))


ADDED = "INSERT INTO processed_interaction VALUES (?, '', '{}')"


async def add(store: Store, number: int) -> None:
    async with store.write() as db:
        await db.run(ADDED, number)


async def add_at_once(store: Store, number: int) -> None:
    await store.transact(lambda db: db.run(ADDED, number))


async def add_either_way(store: Store, number: int) -> None:
    await (add if number % 2 else add_at_once)(store, number)


Add = Callable[[Store, int], Coroutine[Any, Any, None]]
WAYS = pytest.mark.parametrize("add", [add, add_at_once, add_either_way])

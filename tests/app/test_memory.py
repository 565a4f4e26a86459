"""What is free in the heap of the C library goes back to the system, and what was read is soon forgotten."""

import asyncio
import gc
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from bot import memory
from storage.records.people import Student
from storage.records.tryout import Tryout
from storage.tables.sql_session import to_records
from storage.tables.tryouts import read_tryouts
from tests.rules.plan_samples import plan

MIB = 1 << 20


def held() -> int:
    """What this process holds, in bytes."""
    return int(Path("/proc/self/statm").read_text().split()[1]) * 4096


@pytest.mark.skipif(memory._glibc is None, reason="another C library")
def test_what_was_taken_for_a_moment_goes_back_to_the_system() -> None:
    # Each is small enough to come out of the heap, and the last one keeps the heap from shrinking by itself.
    pieces = [bytes(2000) for _ in range(30_000)]
    last = pieces[-1]
    full = held()
    del pieces
    memory.give_back()
    assert full - held() > 40 * MIB
    assert len(last) == 2000


def test_another_c_library_is_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bot.memory._glibc", None)
    memory.share()
    memory.give_back()


async def test_who_was_erased_is_soon_in_memory_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    row = "SELECT 1 AS id, 1 AS tryout_id, NULL AS platform_id, '7b' AS section, 'Wilhelmina Erstwhile' AS name"
    assert [one.name for one in to_records(Student, rows(row))] == ["Wilhelmina Erstwhile"]
    await kept_small(monkeypatch)
    assert not [one for one in gc.get_objects() if type(one) is Student and one.name == "Wilhelmina Erstwhile"]


async def test_the_key_of_the_audit_log_that_was_thrown_away_is_soon_in_memory_no_more(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    row = (
        "SELECT 1 AS id, 1 AS server_id, 'archived' AS state, ? AS plan_json, '{}' AS rooms_json, "
        "'2026-10-26T15:30:00+00:00' AS created_at, 'e45a17' AS audit_key"
    )
    assert [one.audit_key for one in read_tryouts(rows(row, plan().model_dump_json()))] == ["e45a17"]
    await kept_small(monkeypatch)
    assert not [one for one in gc.get_objects() if type(one) is Tryout and one.audit_key == "e45a17"]


def rows(sql: str, *values: str) -> list[sqlite3.Row]:
    """What a database answers."""
    with closing(sqlite3.connect(":memory:")) as connection:
        connection.row_factory = sqlite3.Row
        return connection.execute(sql, values).fetchall()


async def kept_small(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the memory be kept small for a moment."""
    monkeypatch.setattr("bot.memory.EVERY_S", 0.0)
    keeping = asyncio.create_task(memory.keep_small())
    for _ in range(3):
        await asyncio.sleep(0)
    keeping.cancel()

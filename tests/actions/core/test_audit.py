"""The audit log in a real database: written as a chain, and what is altered afterwards is found."""

from datetime import timedelta
from typing import Any

import pytest

from bot.actions.core.audit import append_entry
from bot.actions.judging.judges_admin import enrol
from bot.rules.core.hash_chain import broken_at
from storage.records.tryout import AuditEntry
from storage.tables import audit_log
from tests.actions.conftest import START, Asking, Begin
from tests.actions.table_help import add_squads, at_squad, labels, press


async def written(asking: Asking) -> list[AuditEntry]:
    """Four entries, read back."""
    async with asking.store.write() as db:
        for turn in range(4):
            details = {"squad": turn, "note": "äöü", "list": [1, None], "sum": {"b": 1, "a": 2}}
            await append_entry(db, 1, START + timedelta(microseconds=turn), f"user:{turn}", "table.save", details)
    return await read(asking)


async def read(asking: Asking) -> list[AuditEntry]:
    async with asking.store.read() as db:
        return await audit_log.entries(db)


async def test_a_trail_that_was_written_and_read_back_holds(begin: Begin) -> None:
    entries = await written(await begin())
    assert len(entries) == 4
    assert broken_at(entries) is None


@pytest.mark.parametrize(
    ("statement", "place"),
    [
        ("UPDATE audit_log SET details_json = '{\"squad\": 3}' WHERE seq = 2", 1),
        ("UPDATE audit_log SET actor = 'user:9' WHERE seq = 1", 0),
        ("DELETE FROM audit_log WHERE seq = 3", 2),
    ],
)
async def test_what_is_altered_in_the_database_is_found(begin: Begin, statement: str, place: int) -> None:
    asking = await begin()
    await written(asking)
    async with asking.store.write() as db:
        await db.run(statement)
    assert broken_at(await read(asking)) == place


async def test_nothing_that_is_so_now_is_read_from_the_log(begin: Begin) -> None:
    """The log says what was done; without it everything goes on as before, and only the proof is gone."""
    asking = await begin("judging")
    await add_squads(asking, 1)
    asking.now += timedelta(days=10)
    await asking.ask("surprise.start:chain")
    async with asking.store.write() as db:
        await enrol(db, 1, 801, "Jo")
    late = {"name": "Late Ida", "section": "7-A"}
    presses: tuple[tuple[str, int, dict[str, Any]], ...] = (
        ("student.came-late", 77, {"fields": late}),
        ("sheets.decline", 801, {}),
    )
    for key, who, more in presses:
        await asking.ask(key, who, **more)
    ready = await press(asking, await at_squad(asking, "chain.time", "1 Crooked Spoons"), "Stopwatch")
    assert "The clock started" in (await press(asking, ready, "All safe: start the clock")).text
    said = await asking.messages_to("office")
    assert "cannot be a judge" in said[-1]
    async with asking.store.write() as db:
        await db.run("DELETE FROM audit_log")
    for key, who, more in presses:
        await asking.ask(key, who, **more)
    assert await asking.messages_to("office") == said
    assert any("Crooked Spoons" in label for label in labels(await asking.message("table.panel")))
    assert "It was running already" in (await press(asking, ready, "All safe: start the clock")).text

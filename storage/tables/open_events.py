"""Which events are open for judging, and which sheets were let go when judging was closed."""

from collections.abc import Sequence
from datetime import datetime

from storage.records.judging import OpenEvent
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def opened(db: Snapshot, tryout_id: int) -> dict[str, OpenEvent]:
    """The events whose sheets were handed out, by key, closed ones included."""
    found = await db.all(
        OpenEvent, "SELECT * FROM judged_event WHERE tryout_id = ? ORDER BY opened_at, event", tryout_id
    )
    return {one.event: one for one in found}


async def open_event(db: Transaction, tryout_id: int, event: str, now: datetime) -> None:
    """Open an event for judging, or open it again."""
    await db.run(
        "INSERT INTO judged_event (tryout_id, event, opened_at) VALUES (?, ?, ?) "
        "ON CONFLICT (tryout_id, event) DO UPDATE SET closed_at = NULL",
        tryout_id,
        event,
        stamp(now),
    )


async def close_events(db: Transaction, tryout_id: int, now: datetime) -> None:
    """Close judging of every event."""
    await db.run(
        "UPDATE judged_event SET closed_at = ? WHERE tryout_id = ? AND closed_at IS NULL", stamp(now), tryout_id
    )


async def open_again(db: Transaction, tryout_id: int) -> None:
    """Judging goes on: every event is open again, and the sheets that were let go are owed again."""
    await db.run("UPDATE judged_event SET closed_at = NULL WHERE tryout_id = ?", tryout_id)
    await db.run(
        "UPDATE sheet SET state = iif(marks_json = '{}', 'open', 'started') "
        "WHERE id IN (SELECT sheet_id FROM missing_at_close "
        "JOIN sheet ON sheet.id = sheet_id JOIN judge ON judge.id = judge_id WHERE tryout_id = ?)",
        tryout_id,
    )
    await db.run(
        "DELETE FROM missing_at_close WHERE sheet_id IN "
        "(SELECT sheet.id FROM sheet JOIN judge ON judge.id = judge_id WHERE tryout_id = ?)",
        tryout_id,
    )


async def let_go(db: Transaction, sheet_ids: Sequence[int], now: datetime) -> None:
    """Go without these sheets: they are owed no more, and what stands in them is kept and does not count."""
    at = stamp(now)
    await db.run_many("UPDATE sheet SET state = 'recused' WHERE id = ?", [(one,) for one in sheet_ids])
    await db.run_many(
        "INSERT OR IGNORE INTO missing_at_close (sheet_id, at) VALUES (?, ?)", [(one, at) for one in sheet_ids]
    )


async def let_go_ids(db: Snapshot, tryout_id: int) -> set[int]:
    """The sheets that were still missing when judging was closed anyway."""
    found = await db.rows(
        "SELECT sheet_id FROM missing_at_close JOIN sheet ON sheet.id = sheet_id JOIN judge ON judge.id = judge_id "
        "WHERE tryout_id = ?",
        tryout_id,
    )
    return {row["sheet_id"] for row in found}


async def shut_all_again(db: Transaction, tryout_id: int, now: datetime) -> None:
    """No sheet is open again any more."""
    await db.run(
        "UPDATE reopening SET done_at = ? WHERE done_at IS NULL AND sheet_id IN "
        "(SELECT sheet.id FROM sheet JOIN judge ON judge.id = judge_id WHERE tryout_id = ?)",
        stamp(now),
        tryout_id,
    )

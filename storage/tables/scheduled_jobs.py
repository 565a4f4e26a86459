"""What is due when: what the alarm reads and settles."""

from datetime import datetime

from storage.records.delivery import Due
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def next_due(db: Snapshot) -> datetime | None:
    """When the alarm must ring next."""
    found = await db.value("SELECT min(coalesce(not_before, at)) FROM due WHERE state = 'waiting'")
    return datetime.fromisoformat(found) if found else None


async def due_by(db: Snapshot, now: datetime) -> list[Due]:
    """What is due by now, oldest first."""
    return await db.all(
        Due,
        "SELECT * FROM due WHERE state = 'waiting' AND coalesce(not_before, at) <= ? ORDER BY at, id",
        stamp(now),
    )


async def due(db: Snapshot, due_id: int) -> Due | None:
    """One row by id."""
    return await db.one(Due, "SELECT * FROM due WHERE id = ?", due_id)


async def settle_due(db: Transaction, due_id: int, state: str, now: datetime, why: str = "") -> None:
    """Record what became of something that was due: `done` or `skipped` with the reason."""
    await db.run(
        "UPDATE due SET state = ?, why = ?, handled_at = ? WHERE id = ? AND state = 'waiting'",
        state,
        why,
        stamp(now),
        due_id,
    )


async def postpone_due(db: Transaction, due_id: int, until: datetime, why: str) -> None:
    """Try something again later, after a fault."""
    await db.run(
        "UPDATE due SET tries = tries + 1, not_before = ?, why = ? WHERE id = ? AND state = 'waiting'",
        stamp(until),
        why,
        due_id,
    )

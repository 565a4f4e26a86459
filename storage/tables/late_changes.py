"""Changes at the table after judging was closed: asked for, agreed to, and over with the next announcement."""

from datetime import datetime

from storage.records.scores import LateChange
from storage.tables.sql_session import Conflict, Snapshot, Transaction, stamp


async def late_changes(db: Snapshot, tryout_id: int) -> list[LateChange]:
    """Every one, oldest first."""
    return await db.all(LateChange, "SELECT * FROM late_change WHERE tryout_id = ? ORDER BY id", tryout_id)


async def is_open(db: Snapshot, squad_id: int, event: str) -> bool:
    """Whether what a squad has in an event may be corrected now."""
    sql = (
        "SELECT EXISTS (SELECT 1 FROM late_change WHERE squad_id = ? AND event = ? AND kind = 'correction' "
        "AND agreed_at IS NOT NULL AND shut_at IS NULL)"
    )
    return bool(await db.value(sql, squad_id, event))


async def ask(
    db: Transaction, tryout_id: int, squad_id: int, event: str, reason: str, asked_by: str, now: datetime
) -> int:
    """Note who (a pseudonym) wants what a squad has in an event to be corrected; the id."""
    return await db.insert(
        "INSERT INTO late_change (tryout_id, squad_id, event, kind, reason, asked_by, asked_at) "
        "VALUES (?, ?, ?, 'correction', ?, ?, ?)",
        tryout_id,
        squad_id,
        event,
        reason,
        asked_by,
        stamp(now),
    )


async def agree(db: Transaction, change_id: int, now: datetime) -> None:
    """It may be corrected from now on.

    Raises:
        Conflict: somebody has agreed before.
    """
    sql = "UPDATE late_change SET agreed_at = ? WHERE id = ? AND agreed_at IS NULL AND shut_at IS NULL"
    if not await db.run(sql, stamp(now), change_id):
        raise Conflict("agreed to before")


async def note_missing(
    db: Transaction, tryout_id: int, squad_id: int, event: str, recorded_by: str, now: datetime
) -> None:
    """Something was recorded where there was nothing; noted once for a squad in an event."""
    await db.run(
        "INSERT INTO late_change (tryout_id, squad_id, event, kind, reason, asked_by, asked_at, agreed_at, shut_at) "
        "SELECT ?1, ?2, ?3, 'missing', '', ?4, ?5, ?5, ?5 WHERE NOT EXISTS "
        "(SELECT 1 FROM late_change WHERE squad_id = ?2 AND event = ?3 AND kind = 'missing')",
        tryout_id,
        squad_id,
        event,
        recorded_by,
        stamp(now),
    )


async def shut(db: Transaction, tryout_id: int, now: datetime) -> None:
    """Nothing may be corrected any more, and what was only asked for is over."""
    sql = "UPDATE late_change SET shut_at = ? WHERE tryout_id = ? AND shut_at IS NULL"
    await db.run(sql, stamp(now), tryout_id)

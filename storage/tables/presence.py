"""Who of a squad is here for an event."""

from collections.abc import Mapping
from datetime import datetime

from storage.records.event_day import Tick
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def ticks(db: Snapshot, squad_id: int, event: str) -> list[Tick]:
    """What was noted last of each member; empty until somebody has looked."""
    sql = "SELECT * FROM presence WHERE squad_id = ? AND event = ? ORDER BY student_id"
    return await db.all(Tick, sql, squad_id, event)


async def note(
    db: Transaction, squad_id: int, event: str, here: Mapping[int, bool], noted_by: int, now: datetime
) -> None:
    """Note of each student whether they are here; a later note takes the place of an earlier one."""
    for student_id, is_here in here.items():
        await db.run(
            "INSERT INTO presence (squad_id, event, student_id, here, noted_by, noted_at) VALUES (?, ?, ?, ?, ?, ?) "
            "ON CONFLICT (squad_id, event, student_id) DO UPDATE SET here = excluded.here, "
            "noted_by = excluded.noted_by, noted_at = excluded.noted_at",
            squad_id,
            event,
            student_id,
            is_here,
            noted_by,
            stamp(now),
        )

"""More time for the hand-in of one squad: until when."""

from datetime import datetime

from storage.tables.sql_session import Snapshot, Transaction, stamp


async def extended(db: Snapshot, squad_id: int) -> datetime | None:
    """Until when a squad may hand in though the deadline is past; None where it has no more time than others."""
    found = await db.value("SELECT until FROM extension WHERE squad_id = ?", squad_id)
    return None if found is None else datetime.fromisoformat(str(found))


async def extend(db: Transaction, squad_id: int, until: datetime, now: datetime) -> None:
    """Give a squad more time, whatever it was given before."""
    await db.run(
        "INSERT INTO extension (squad_id, until, given_at) VALUES (?, ?, ?) "
        "ON CONFLICT (squad_id) DO UPDATE SET until = excluded.until, given_at = excluded.given_at",
        squad_id,
        stamp(until),
        stamp(now),
    )

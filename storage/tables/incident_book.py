"""The coaches' own book of incidents."""

from datetime import datetime

from storage.records.results import Incident
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def incidents(db: Snapshot, tryout_id: int) -> list[Incident]:
    """Every incident of a try-out, the oldest first."""
    return await db.all(Incident, "SELECT * FROM incident WHERE tryout_id = ? ORDER BY id", tryout_id)


async def note(db: Transaction, tryout_id: int, what: str, who: str, decision: str, now: datetime) -> None:
    """Write an incident into the book."""
    await db.run(
        "INSERT INTO incident (tryout_id, what, who, decision, happened_at) VALUES (?, ?, ?, ?, ?)",
        tryout_id,
        what,
        who,
        decision,
        stamp(now),
    )


async def strike(db: Transaction, tryout_id: int, incident_id: int) -> bool:
    """Take an incident out of the book; whether it was in it."""
    sql = "DELETE FROM incident WHERE tryout_id = ? AND id = ?"
    return await db.run(sql, tryout_id, incident_id) == 1

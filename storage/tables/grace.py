"""How long the coach waits for members of a squad that is too small."""

from datetime import datetime

from storage.tables.sql_session import Snapshot, Transaction, stamp


async def wait_until(db: Transaction, squad_id: int, until: datetime) -> None:
    """Wait for members of a squad until an instant; a later word takes the place of an earlier one."""
    sql = (
        "INSERT INTO grace (squad_id, until) VALUES (?, ?) ON CONFLICT (squad_id) DO UPDATE SET until = excluded.until"
    )
    await db.run(sql, squad_id, stamp(until))


async def waits_until(db: Snapshot, squad_id: int) -> datetime | None:
    """Until when the coach waits, or has waited, for members of a squad."""
    found = await db.value("SELECT until FROM grace WHERE squad_id = ?", squad_id)
    return datetime.fromisoformat(found) if found else None

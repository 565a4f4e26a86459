"""How long the coach waits for members of a squad that is too small."""

from datetime import datetime

from storage.tables.sql_session import Snapshot, Transaction, stamp


async def wait_until(db: Transaction, squad_id: int, until: datetime) -> None:
    """Wait for members of a squad until an instant; a later word takes the place of an earlier one."""
    sql = (
        "INSERT INTO grace (squad_id, until) VALUES (?, ?) ON CONFLICT (squad_id) DO UPDATE SET until = excluded.until"
    )
    await db.run(sql, squad_id, stamp(until))


async def waiting(db: Snapshot, tryout_id: int) -> dict[int, datetime]:
    """Until when there is, or was, time to find members, by squad (id)."""
    sql = "SELECT squad_id, until FROM grace JOIN squad ON squad.id = squad_id WHERE tryout_id = ? AND withdrawn = 0"
    return {row["squad_id"]: datetime.fromisoformat(row["until"]) for row in await db.rows(sql, tryout_id)}


async def waits_until(db: Snapshot, squad_id: int) -> datetime | None:
    """Until when the coach waits, or has waited, for members of a squad."""
    found = await db.value("SELECT until FROM grace WHERE squad_id = ?", squad_id)
    return datetime.fromisoformat(found) if found else None

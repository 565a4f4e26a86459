"""Protests of squads, and what two coaches decided."""

from datetime import datetime

from storage.records.results import Protest
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def protests(db: Snapshot, tryout_id: int) -> list[Protest]:
    """Every protest of a try-out, oldest first."""
    return await db.all(Protest, "SELECT * FROM protest WHERE tryout_id = ? ORDER BY id", tryout_id)


async def protest(db: Snapshot, tryout_id: int, protest_id: int) -> Protest | None:
    """One protest of a try-out."""
    return await db.one(Protest, "SELECT * FROM protest WHERE tryout_id = ? AND id = ?", tryout_id, protest_id)


async def count_open(db: Snapshot, tryout_id: int) -> int:
    """How many protests are not decided."""
    sql = "SELECT count(*) FROM protest WHERE tryout_id = ? AND agreed_at IS NULL"
    return int(await db.value(sql, tryout_id))


async def file_protest(db: Transaction, tryout_id: int, squad_id: int, text: str, now: datetime) -> int:
    """Keep a protest; its id."""
    sql = "INSERT INTO protest (tryout_id, squad_id, text, filed_at) VALUES (?, ?, ?, ?)"
    return await db.insert(sql, tryout_id, squad_id, text, stamp(now))


async def propose(db: Transaction, protest_id: int, verdict: str, reason: str, account: int) -> None:
    """Note what one coach would decide."""
    await db.run(
        "UPDATE protest SET verdict = ?, reason = ?, decided_by = ? WHERE id = ? AND agreed_at IS NULL",
        verdict,
        reason,
        account,
        protest_id,
    )


async def agree(db: Transaction, protest_id: int, now: datetime) -> None:
    """A second coach agrees: the verdict stands."""
    await db.run("UPDATE protest SET agreed_at = ? WHERE id = ?", stamp(now), protest_id)

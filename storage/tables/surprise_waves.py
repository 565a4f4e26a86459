"""Squads for which a surprise has started before it has for all."""

from collections.abc import Iterable
from datetime import datetime

from storage.records.event_day import WaveStart
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def starts(db: Snapshot, tryout_id: int) -> list[WaveStart]:
    """Every start for a squad that takes part, oldest first."""
    return await db.all(
        WaveStart,
        "SELECT surprise_wave.* FROM surprise_wave JOIN squad ON squad.id = squad_id "
        "WHERE tryout_id = ? AND withdrawn = 0 ORDER BY started_at, squad_id",
        tryout_id,
    )


async def started_for(db: Snapshot, tryout_id: int, event: str) -> dict[int, datetime]:
    """The squads for which a surprise has started, and when."""
    return {one.squad_id: one.started_at for one in await starts(db, tryout_id) if one.event == event}


async def start(db: Transaction, event: str, squad_ids: Iterable[int], who: int, now: datetime) -> None:
    """Start a surprise for some squads.

    Raises:
        Conflict: it has started for one of them before.
    """
    sql = "INSERT INTO surprise_wave (squad_id, event, started_at, started_by) VALUES (?, ?, ?, ?)"
    for squad_id in squad_ids:
        await db.run(sql, squad_id, event, stamp(now), who)

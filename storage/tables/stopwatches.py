"""Stopwatches at the table: since when a squad plans, and since when its clock runs; one that is over has no row."""

from datetime import datetime

from storage.records.run_pads_and_stopwatches import Stopwatch
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def stopwatch(db: Snapshot, squad_id: int, measure: str, attempt: str) -> Stopwatch | None:
    """The stopwatch of one attempt."""
    sql = "SELECT * FROM stopwatch WHERE squad_id = ? AND measure = ? AND attempt = ?"
    return await db.one(Stopwatch, sql, squad_id, measure, attempt)


async def running(db: Snapshot, tryout_id: int) -> list[Stopwatch]:
    """The clocks that run for squads that take part."""
    return await db.all(
        Stopwatch,
        "SELECT stopwatch.* FROM squad JOIN stopwatch ON squad.id = squad_id "
        "WHERE tryout_id = ? AND withdrawn = 0 AND started_at IS NOT NULL ORDER BY stopwatch.rowid",
        tryout_id,
    )


async def plan_first(db: Transaction, squad_id: int, measure: str, attempt: str, now: datetime) -> None:
    """A squad begins to plan, also where its clock runs."""
    await db.run(
        "INSERT INTO stopwatch (squad_id, measure, attempt, planning_at) VALUES (?, ?, ?, ?) "
        "ON CONFLICT (squad_id, measure, attempt) DO UPDATE SET planning_at = excluded.planning_at",
        squad_id,
        measure,
        attempt,
        stamp(now),
    )


async def start(db: Transaction, squad_id: int, measure: str, attempt: str, now: datetime) -> None:
    """The clock starts; planning is over."""
    await db.run(
        "INSERT INTO stopwatch (squad_id, measure, attempt, started_at) VALUES (?, ?, ?, ?) "
        "ON CONFLICT (squad_id, measure, attempt) DO UPDATE SET planning_at = NULL, started_at = excluded.started_at",
        squad_id,
        measure,
        attempt,
        stamp(now),
    )


async def over(db: Transaction, squad_id: int, measure: str, attempt: str) -> None:
    """The attempt is on record, or its clock was given up."""
    sql = "DELETE FROM stopwatch WHERE squad_id = ? AND measure = ? AND attempt = ?"
    await db.run(sql, squad_id, measure, attempt)

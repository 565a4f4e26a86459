"""Runs at a run pad and their taps."""

from datetime import datetime

from storage.records.run_pads_and_stopwatches import PadRun, Tap
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def run(db: Snapshot, run_id: int) -> PadRun | None:
    """One run by id, whatever became of it."""
    return await db.one(PadRun, "SELECT * FROM pad_run WHERE id = ?", run_id)


async def open_run(db: Snapshot, squad_id: int, event: str, measure: str, number: int, run_off: bool) -> PadRun | None:
    """The run that is open for an attempt."""
    return await db.one(
        PadRun,
        "SELECT * FROM pad_run WHERE squad_id = ? AND event = ? AND measure = ? AND number = ? AND run_off = ? "
        "AND state = 'open'",
        squad_id,
        event,
        measure,
        number,
        run_off,
    )


async def open_runs(db: Snapshot, tryout_id: int) -> list[PadRun]:
    """The runs that are open, and whether anything was tapped in them, the newest last."""
    return await db.all(
        PadRun,
        "SELECT pad_run.*, EXISTS (SELECT 1 FROM pad_tap WHERE run_id = pad_run.id) AS tapped FROM pad_run "
        "JOIN squad ON squad.id = squad_id WHERE tryout_id = ? AND withdrawn = 0 AND state = 'open' "
        "ORDER BY pad_run.id",
        tryout_id,
    )


async def begin(
    db: Transaction, squad_id: int, event: str, measure: str, number: int, run_off: bool, now: datetime
) -> int:
    """Open a pad for an attempt and return its id.

    Raises:
        Conflict: one is open already.
    """
    sql = "INSERT INTO pad_run (squad_id, event, measure, number, run_off, opened_at) VALUES (?, ?, ?, ?, ?, ?)"
    return await db.insert(sql, squad_id, event, measure, number, run_off, stamp(now))


async def start(db: Transaction, run_id: int, now: datetime) -> bool:
    """Start the clock; False when it runs already or the run is closed."""
    sql = "UPDATE pad_run SET started_at = ? WHERE id = ? AND started_at IS NULL AND state = 'open'"
    return await db.run(sql, stamp(now), run_id) == 1


async def tap(db: Transaction, run_id: int, item: str, step: int, tapped_by: int, now: datetime) -> None:
    """One more (1) or one less (-1) of an item."""
    sql = "INSERT INTO pad_tap (run_id, item, step, tapped_by, tapped_at) VALUES (?, ?, ?, ?, ?)"
    await db.run(sql, run_id, item, step, tapped_by, stamp(now))


async def taps(db: Snapshot, run_id: int) -> list[Tap]:
    """Every tap of a run in the order in which they were kept, undone ones too."""
    return await db.all(Tap, "SELECT * FROM pad_tap WHERE run_id = ? ORDER BY id", run_id)


async def undo_tap(db: Transaction, tap_id: int, now: datetime) -> bool:
    """Undo a tap; False when it was undone already."""
    sql = "UPDATE pad_tap SET undone_at = ? WHERE id = ? AND undone_at IS NULL"
    return await db.run(sql, stamp(now), tap_id) == 1


async def not_seen(db: Transaction, who: int, at: datetime) -> None:
    """The answer to what somebody pressed on a pad at this moment did not reach the phone."""
    sql = "UPDATE pad_tap SET unseen = ? WHERE tapped_by = ? AND {} = ?"
    await db.run(sql.format("tapped_at"), "tap", who, stamp(at))
    await db.run(sql.format("undone_at"), "undo", who, stamp(at))


async def interrupt(db: Transaction, run_id: int, now: datetime) -> bool:
    """The run does not count; False when it was closed already."""
    sql = "UPDATE pad_run SET state = 'interrupted', closed_at = ? WHERE id = ? AND state = 'open'"
    return await db.run(sql, stamp(now), run_id) == 1


async def save(db: Transaction, run_id: int, attempt_id: int, now: datetime) -> bool:
    """The run has become an attempt; False when it was closed already."""
    sql = "UPDATE pad_run SET state = 'saved', closed_at = ?, attempt_id = ? WHERE id = ? AND state = 'open'"
    return await db.run(sql, stamp(now), attempt_id, run_id) == 1

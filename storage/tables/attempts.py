"""Attempts at the table."""

import json
from datetime import datetime
from typing import NamedTuple

from storage.records.scores import Attempt
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def attempts(db: Snapshot, tryout_id: int) -> list[Attempt]:
    """All attempts that stand (were not undone) of squads that take part, oldest first."""
    return await db.all(
        Attempt,
        "SELECT attempt.* FROM attempt JOIN squad ON squad.id = squad_id "
        "WHERE tryout_id = ? AND withdrawn = 0 AND undone_at IS NULL ORDER BY attempt.id",
        tryout_id,
    )


async def at_measure(db: Snapshot, tryout_id: int, event: str, measure: str) -> list[Attempt]:
    """Those of them at one measure."""
    return await db.all(
        Attempt,
        "SELECT attempt.* FROM attempt JOIN squad ON squad.id = squad_id "
        "WHERE tryout_id = ? AND withdrawn = 0 AND undone_at IS NULL AND event = ? AND measure = ? ORDER BY attempt.id",
        tryout_id,
        event,
        measure,
    )


class LastRun(NamedTuple):
    """The newest attempt of an event, whose squad ran last."""

    event: str
    squad_id: int
    recorded_at: datetime


async def last_runs(db: Snapshot, tryout_id: int) -> list[LastRun]:
    """The last run of each event; counted shares of a piece are no runs."""
    # In a query with one max(), SQLite takes the other columns from the row that has it.
    found = await db.rows(
        "SELECT event, squad_id, recorded_at, max(attempt.id) FROM attempt JOIN squad ON squad.id = squad_id "
        "WHERE tryout_id = ? AND withdrawn = 0 AND undone_at IS NULL AND contributing IS NULL GROUP BY event",
        tryout_id,
    )
    return [LastRun(row["event"], row["squad_id"], datetime.fromisoformat(row["recorded_at"])) for row in found]


async def attempt(db: Snapshot, attempt_id: int) -> Attempt | None:
    """One attempt by id, undone or not."""
    return await db.one(Attempt, "SELECT * FROM attempt WHERE id = ?", attempt_id)


async def add_attempt(db: Transaction, attempt: Attempt) -> int:
    """Record an attempt (its `id` is ignored) and return its id.

    Raises:
        Conflict: this squad has an attempt with this number already.
    """
    return await db.insert(
        "INSERT INTO attempt (squad_id, event, measure, number, items_json, deductions, amount, seconds, "
        "press_seconds, hand_seconds, faults, contributing, members, run_off, recorded_by, recorded_at) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        attempt.squad_id,
        attempt.event,
        attempt.measure,
        attempt.number,
        json.dumps(attempt.items, sort_keys=True),
        str(attempt.deductions),
        *(None if one is None else str(one) for one in (attempt.amount, attempt.seconds)),
        *(None if one is None else str(one) for one in (attempt.press_seconds, attempt.hand_seconds)),
        attempt.faults,
        attempt.contributing,
        attempt.members,
        attempt.run_off,
        attempt.recorded_by,
        stamp(attempt.recorded_at),
    )


async def undo(db: Transaction, attempt_id: int, now: datetime) -> bool:
    """Undo an attempt; it stays on record. False when it was undone already."""
    sql = "UPDATE attempt SET undone_at = ? WHERE id = ? AND undone_at IS NULL"
    return await db.run(sql, stamp(now), attempt_id) == 1

"""Scheduled jobs: what is to happen when; planned, cancelled, found when it is due, and settled."""

from datetime import datetime

from storage.records.scheduled_jobs import ScheduledJob
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def schedule_job(
    db: Transaction, tryout_id: int, kind: str, key: str, at: datetime, stale_after: datetime | None = None
) -> None:
    """Have something happen at an instant; planning it again moves it unless it has been handled."""
    await db.run(
        "INSERT INTO scheduled_job (tryout_id, kind, key, at, stale_after) VALUES (?, ?, ?, ?, ?) "
        "ON CONFLICT (tryout_id, kind, key) WHERE state <> 'cancelled' DO UPDATE "
        "SET at = excluded.at, stale_after = excluded.stale_after WHERE state = 'waiting'",
        tryout_id,
        kind,
        key,
        stamp(at),
        None if stale_after is None else stamp(stale_after),
    )


async def cancel_jobs(db: Transaction, tryout_id: int, kind: str) -> None:
    """Nothing of this kind shall happen any more."""
    await db.run(
        "UPDATE scheduled_job SET state = 'cancelled' WHERE tryout_id = ? AND kind = ? AND state = 'waiting'",
        tryout_id,
        kind,
    )


async def waiting_jobs(db: Snapshot, tryout_id: int, kind: str, beginning: str = "") -> list[ScheduledJob]:
    """What of one kind is still to happen, in time order; only keys that begin so."""
    return await db.all(
        ScheduledJob,
        "SELECT * FROM scheduled_job WHERE tryout_id = ? AND kind = ? AND key >= ? AND key < ? || char(1114111) "
        "AND state = 'waiting' AND state <> 'cancelled' ORDER BY at, id",
        tryout_id,
        kind,
        beginning,
        beginning,
    )


async def jobs_of(db: Snapshot, tryout_id: int) -> list[ScheduledJob]:
    """Everything planned, in time order, whatever became of it."""
    return await db.all(ScheduledJob, "SELECT * FROM scheduled_job WHERE tryout_id = ? ORDER BY at, id", tryout_id)


async def next_job_at(db: Snapshot) -> datetime | None:
    """When the job runner must ring next."""
    found = await db.value("SELECT min(coalesce(not_before, at)) FROM scheduled_job WHERE state = 'waiting'")
    return datetime.fromisoformat(found) if found else None


async def jobs_due_by(db: Snapshot, now: datetime) -> list[ScheduledJob]:
    """What is due by now, oldest first."""
    return await db.all(
        ScheduledJob,
        "SELECT * FROM scheduled_job WHERE state = 'waiting' AND coalesce(not_before, at) <= ? ORDER BY at, id",
        stamp(now),
    )


async def job(db: Snapshot, job_id: int) -> ScheduledJob | None:
    """One row by id."""
    return await db.one(ScheduledJob, "SELECT * FROM scheduled_job WHERE id = ?", job_id)


async def settle_job(db: Transaction, job_id: int, state: str, now: datetime, why: str = "") -> None:
    """Record what became of something that was due: `done` or `skipped` with the reason."""
    await db.run(
        "UPDATE scheduled_job SET state = ?, why = ?, handled_at = ? WHERE id = ? AND state = 'waiting'",
        state,
        why,
        stamp(now),
        job_id,
    )


async def postpone_job(db: Transaction, job_id: int, until: datetime, why: str) -> None:
    """Try something again later, after a fault."""
    await db.run(
        "UPDATE scheduled_job SET tries = tries + 1, not_before = ?, why = ? WHERE id = ? AND state = 'waiting'",
        stamp(until),
        why,
        job_id,
    )

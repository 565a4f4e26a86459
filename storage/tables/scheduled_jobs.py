"""What is due when: what the job runner reads and settles."""

from datetime import datetime

from storage.records.delivery import ScheduledJob
from storage.tables.sql_session import Snapshot, Transaction, stamp


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

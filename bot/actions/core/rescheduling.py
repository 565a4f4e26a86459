"""Scheduling anew what is still to happen, and putting off until morning what would ring at night."""

from datetime import datetime

from bot.actions.core.schedule_cache import schedule_of
from bot.rules.calendar.job_times import JOB_TYPES, agenda
from bot.rules.calendar.reminders import held_until
from bot.rules.core.lateness import UNTIL_MORNING
from bot.rules.office import digest
from bot.rules.privacy import retention
from storage.records.delivery import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import scheduled_jobs, tryouts
from storage.tables.sql_session import Snapshot, Transaction


async def reschedule(db: Transaction, tryout_id: int, now: datetime) -> None:
    """Schedule anew all that is still to happen; what has happened, and what is overdue, is left as it is."""
    tryout = await tryouts.get(db, tryout_id)
    planned = schedule_of(tryout)
    entries = (*agenda(planned, tryout.state), *digest.agenda(tryout.plan, planned, tryout.state))
    wanted = {(entry.kind, entry.key) for entry in entries}
    for row in await scheduled_jobs.jobs_of(db, tryout_id):
        if (
            row.state == "waiting"
            and row.kind in JOB_TYPES
            and (row.kind, row.key.partition(UNTIL_MORNING)[0]) not in wanted
        ):
            await scheduled_jobs.settle_job(db, row.id, "cancelled", now)
    for entry in entries:
        if entry.at > now:
            await scheduled_jobs.schedule_job(db, tryout_id, entry.kind, entry.key, entry.at, entry.stale_after)
    if tryout.state != "drafting" and tryout.first_announced_at is None:
        await scheduled_jobs.schedule_job(
            db, tryout_id, "purge", "names", schedule_of(tryout).deadline + retention.WITHOUT_A_RESULT
        )


async def signup_runs(db: Snapshot, tryout: Tryout) -> bool:
    """Whether sign-up is open and its close is still to come."""
    if tryout.state not in ("signup", "window"):
        return False
    return any(UNTIL_MORNING not in row.key for row in await closing_of_signup(db, tryout))


async def closing_of_signup(db: Snapshot, tryout: Tryout) -> list[ScheduledJob]:
    """The close of sign-up that is still to be handled."""
    return await scheduled_jobs.waiting_jobs(db, tryout.id, "signup-closes")


async def hold(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> bool:
    """Put off until morning what comes late and would ring at night; whether it was put off."""
    morning = held_until(tryout.plan, row.at, now)
    if morning is None:
        return False
    await scheduled_jobs.settle_job(db, row.id, "skipped", now, "held until morning")
    if row.stale_after is None or morning <= row.stale_after:
        await scheduled_jobs.schedule_job(
            db, tryout.id, row.kind, f"{row.key}{UNTIL_MORNING}", morning, row.stale_after
        )
    return True

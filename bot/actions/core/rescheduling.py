"""When what is due is scheduled anew: after the plan, its state or its brief has changed, and late at night."""

from datetime import datetime

from bot.actions.core.schedule_cache import schedule_of
from bot.rules.calendar.job_times import JOB_TYPES, agenda
from bot.rules.calendar.quiet_hours import held_until, is_worth_saying
from bot.rules.core.lateness import UNTIL_MORNING
from bot.rules.office import digest
from bot.rules.privacy import retention
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import scheduled_jobs, tryouts
from storage.tables.sql_session import Transaction


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
    purge = retention.purge_without_result(tryout, schedule_of(tryout).deadline)
    if purge is not None:
        await scheduled_jobs.schedule_job(db, tryout_id, "purge", "names", purge)


async def hold(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> bool:
    """Put off until morning what comes late and would ring at night; whether it was put off."""
    morning = held_until(tryout.plan, row.at, now)
    if morning is None:
        return False
    await scheduled_jobs.settle_job(db, row.id, "skipped", now, "held until morning")
    if is_worth_saying(morning, row.stale_after):
        await scheduled_jobs.schedule_job(
            db, tryout.id, row.kind, f"{row.key}{UNTIL_MORNING}", morning, row.stale_after
        )
    return True

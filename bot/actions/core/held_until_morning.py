"""Putting off until morning what comes late and would ring at night."""

from datetime import datetime

from bot.rules.calendar.quiet_hours import held_until, is_worth_saying
from bot.rules.core.lateness import UNTIL_MORNING
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import scheduled_jobs
from storage.tables.sql_session import Transaction


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

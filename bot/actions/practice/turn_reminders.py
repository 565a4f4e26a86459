"""Squads are reminded of their practice turns: planned when a turn is booked, dropped when it is gone."""

from datetime import UTC, datetime

from bot.actions.core.rescheduling import hold
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.scheduled_jobs import job
from bot.actions.practice.practice_table import due_key, table_of
from bot.rules.core.lateness import UNTIL_MORNING
from bot.rules.practice.booking import last_give_back
from bot.rules.practice.turn_reminders import is_reminded, is_still_due, remind_at
from bot.words.practice import turn_reminders as words
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import outbox, scheduled_jobs
from storage.tables.sql_session import Transaction


async def plan_reminder(db: Transaction, tryout: Tryout, squad_id: int, begin: datetime, now: datetime) -> None:
    """Have a squad reminded of a turn, unless it is so near that it need not be."""
    at = remind_at(tryout.plan, schedule_of(tryout), begin)
    if is_reminded(at, begin, now):
        await scheduled_jobs.schedule_job(db, tryout.id, "practice", due_key(squad_id, begin), at, begin)


async def drop_reminder(db: Transaction, tryout: Tryout, squad_id: int, begin: datetime, now: datetime) -> None:
    """Have a squad not reminded of a turn any more."""
    for row in await scheduled_jobs.waiting_jobs(db, tryout.id, "practice", due_key(squad_id, begin)):
        await scheduled_jobs.settle_job(db, row.id, "cancelled", now)


@job("practice")
async def remind(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Remind a squad of its turn, if it still has it."""
    squad_text, _, seconds = row.key.partition(UNTIL_MORNING)[0].partition(".")
    squad_id, begin = int(squad_text), datetime.fromtimestamp(int(seconds), UTC)
    table = await table_of(db, tryout)
    if table is None or not is_still_due(table, tryout.state, squad_id, begin):
        return
    if await hold(db, tryout, row, now):
        return
    last = last_give_back(table, begin)
    message = words.reminder(begin, last if now < last else None)
    await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", message, now, begin)

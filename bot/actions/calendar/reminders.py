"""Squads are reminded of what they owe on the days of the window; silent to those that owe nothing."""

from datetime import datetime

from bot.actions.calendar.squad_debts import debts
from bot.actions.core.rescheduling import hold
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.scheduled_jobs import job
from bot.actions.core.signup_runs import signup_runs
from bot.rules.calendar.reminders import is_last_hour, is_of_last_hours, rings
from bot.rules.calendar.school_days import school_days_left
from bot.rules.core.lateness import is_late
from bot.words.calendar import reminders as words
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import outbox, scheduled_jobs
from storage.tables.sql_session import Transaction


@job("reminder", catch_up=True)
async def reminder(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Say to everyone how long remains, and to each squad that owes something what that is."""
    if tryout.state != "window":
        await scheduled_jobs.settle_job(db, row.id, "skipped", now, "window not open")
        return
    if await hold(db, tryout, row, now):
        return
    schedule, late = schedule_of(tryout), is_late(row, now)
    days, last_hours = school_days_left(tryout.plan, schedule.deadline, now), is_of_last_hours(row.key)
    left = words.Left(days, last_hours, is_last_hour(schedule.deadline, now), rings(days, last_hours))
    everyone = words.for_everyone(schedule, schedule.day_number(now), left, late)
    await outbox.enqueue(db, tryout.id, "news", everyone, now, row.stale_after)
    may_change = await signup_runs(db, tryout)
    for squad, owed in await debts(db, tryout, now):
        if owed:
            message = words.for_squad(schedule, squad, owed, may_change, left, late)
            await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", message, now, row.stale_after)

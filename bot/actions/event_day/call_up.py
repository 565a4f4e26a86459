"""Calling squads: whoever is on, and the next two at each table, read it in their rooms, once each."""

from datetime import datetime, timedelta

from bot.actions.core.followers import when_table_changes
from bot.actions.core.scheduled_jobs import job
from bot.actions.event_day.own_times import is_told
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.event_day.call_up import TOO_LATE, called, calls_to_plan, helps, is_called
from bot.rules.event_day.may_arrange import is_on, plan_of
from bot.words.event_day import call_up as words
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import day_timetable, live_messages, outbox, safety, scheduled_jobs, squads
from storage.tables.sql_session import Transaction

CALL = "day-call"


@job(CALL)
async def call_in_time(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """The time of some squads comes near."""
    if helps(row.at, now):
        await call_up(db, tryout, now)


@when_table_changes
async def table_moved_on(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """An attempt was saved or undone, or a squad stays away: the board shows it, and the next are called."""
    if not is_on(tryout):
        return
    await call_up(db, tryout, now)
    await live_messages.mark_stale(db, tryout.id, "day-board")


async def call_up(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Call whoever is on and the next two at each table, if their time is near and they were not called before."""
    if not is_on(tryout) or not await is_told(db, tryout):
        return
    found = await running_day(db, tryout, now)
    run = timedelta(minutes=plan_of(tryout).run_minutes)
    stopped = await safety.stopped(db, tryout.id)
    for queue in found.queues:
        for before, slot in called(queue):
            if is_called(slot, run, now, stopped) and await day_timetable.called(db, slot.id, now):
                members = await squads.members(db, slot.squad_id)
                message = words.called(tryout.plan, found, slot, before, now, members)
                address = f"squad/{slot.squad_id}"
                await outbox.enqueue(db, tryout.id, address, message, now, now + TOO_LATE)


async def plan_calls(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Have squads called in time; what was planned before is planned anew."""
    for row in await scheduled_jobs.jobs_of(db, tryout.id):
        if row.kind == CALL and row.state == "waiting":
            await scheduled_jobs.settle_job(db, row.id, "cancelled", now)
    run = timedelta(minutes=plan_of(tryout).run_minutes)
    for at in calls_to_plan(await day_timetable.slots(db, tryout.id), run, now):
        await scheduled_jobs.schedule_job(db, tryout.id, CALL, str(int(at.timestamp())), at)

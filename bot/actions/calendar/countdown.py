"""The countdown: what is due is planned, squads are reminded of what they owe, sign-up closes, the window ends."""

from datetime import datetime

from bot.actions.calendar.squad_debts import debts
from bot.actions.core.audit import append_entry
from bot.actions.core.dispatch import Work
from bot.actions.core.rescheduling import closing_of_signup, hold, reschedule, signup_runs
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.scheduled_jobs import job
from bot.actions.judging.judging_opened import DrawnPanels, draw_panels, open_judging
from bot.actions.office.readiness import facts
from bot.rules.calendar.reminders import is_last_hour, rings, school_days_left
from bot.rules.core.lateness import UNTIL_MORNING, is_late
from bot.words.calendar import countdown as words
from storage.records.delivery import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import live_messages, outbox, scheduled_jobs, tryouts
from storage.tables.sql_session import Snapshot, Transaction


@job("signup-closes")
async def signup_closes(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Squads are fixed; those that are too small are told, and the coach is."""
    if await hold(db, tryout, row, now):
        await live_messages.mark_stale(db, tryout.id, "signup")
        return
    await _close_signup(db, tryout, now)


async def reschedule_window(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Schedule the window anew once the brief is out; where sign-up ends with it, that is told here."""
    ran = await closing_of_signup(db, tryout)
    await reschedule(db, tryout.id, now)
    left = await closing_of_signup(db, tryout)
    if ran and all(row.at <= now or UNTIL_MORNING in row.key for row in left):
        for row in left:
            await scheduled_jobs.settle_job(db, row.id, "done", now)
        await _close_signup(db, tryout, now)


async def _close_signup(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Tell who must know that sign-up is over."""
    found = await facts(db, tryout, now)
    for squad, owed in await debts(db, tryout, now):
        for debt in owed:
            if debt.kind == "members":
                closed = words.signup_closed_for(squad, debt.number)
                await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", closed, now)
    await outbox.enqueue(db, tryout.id, "office", words.signup_closed(found.squads, found.small, found.alone), now)
    await live_messages.mark_stale(db, tryout.id, "signup")
    await append_entry(db, tryout.id, now, "clock", "signup.close", {"squads": found.squads, "small": len(found.small)})


@job("reminder", catch_up=True)
async def reminder(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Say to everyone how long remains, and to each squad that owes something what that is."""
    if tryout.state != "window":
        await scheduled_jobs.settle_job(db, row.id, "skipped", now, "the window was not open")
        return
    if await hold(db, tryout, row, now):
        return
    schedule, late = schedule_of(tryout), is_late(row, now)
    days, last_hours = school_days_left(tryout.plan, schedule, now), row.key.startswith("last-day")
    left = words.Left(days, last_hours, is_last_hour(schedule.deadline, now), rings(days, last_hours))
    everyone = words.for_everyone(schedule, schedule.day_number(now), left, late)
    await outbox.enqueue(db, tryout.id, "news", everyone, now, row.stale_after)
    may_change = await signup_runs(db, tryout)
    for squad, owed in await debts(db, tryout, now):
        if owed:
            message = words.for_squad(schedule, squad, owed, may_change, left, late)
            await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", message, now, row.stale_after)


async def _draw_panels(db: Snapshot, tryout: Tryout, now: datetime) -> Work[DrawnPanels]:
    """Draw the panels of all events that are judged from now on."""
    return await draw_panels(db, tryout)


@job("deadline", before=_draw_panels)
async def deadline(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime, *, prepared: DrawnPanels) -> None:
    """The window ends and judging begins."""
    if tryout.state != "window":
        await scheduled_jobs.settle_job(db, row.id, "skipped", now, "the window was not open")
        return
    if await hold(db, tryout, row, now):
        return
    await scheduled_jobs.settle_job(db, row.id, "done", now)
    await tryouts.set_state(db, tryout.id, "judging")
    await reschedule(db, tryout.id, now)
    await outbox.enqueue(db, tryout.id, "news", words.window_closed(tryout.plan, schedule_of(tryout)), now)
    await outbox.enqueue(db, tryout.id, "office", words.judging_begins(schedule_of(tryout)), now)
    await open_judging(db, tryout, now, prepared)
    await live_messages.mark_stale(db, tryout.id, "*")
    await append_entry(db, tryout.id, now, "clock", "window.close", {})

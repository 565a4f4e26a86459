"""Sign-up closes at its time, or with a brief that is released before: squads are fixed, and who must know is told."""

from datetime import datetime

from bot.actions.calendar.squad_debts import debts
from bot.actions.core.audit import append_entry
from bot.actions.core.rescheduling import hold, reschedule
from bot.actions.core.scheduled_jobs import job
from bot.actions.core.signup_runs import closing_of_signup
from bot.actions.office.readiness import facts
from bot.rules.calendar.signup_closes import ends_with_brief, members_missing
from bot.words.calendar import signup_closes as words
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import live_messages, outbox, scheduled_jobs
from storage.tables.sql_session import Transaction


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
    if ends_with_brief(bool(ran), left, now):
        for row in left:
            await scheduled_jobs.settle_job(db, row.id, "done", now)
        await _close_signup(db, tryout, now)


async def _close_signup(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Tell who must know that sign-up is over."""
    found = await facts(db, tryout, now)
    for squad, owed in await debts(db, tryout, now):
        if missing := members_missing(owed):
            await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", words.signup_closed_for(squad, missing), now)
    await outbox.enqueue(db, tryout.id, "office", words.signup_closed(found.squads, found.small, found.alone), now)
    await live_messages.mark_stale(db, tryout.id, "signup")
    await append_entry(db, tryout.id, now, "clock", "signup.close", {"squads": found.squads, "small": len(found.small)})

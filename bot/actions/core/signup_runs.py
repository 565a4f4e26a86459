"""Whether sign-up runs: it is open, and its close has still to be handled."""

from bot.rules.calendar.signup_closes import may_run, still_runs
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import scheduled_jobs
from storage.tables.sql_session import Snapshot


async def signup_runs(db: Snapshot, tryout: Tryout) -> bool:
    """Whether sign-up is open and its close is still to come."""
    return may_run(tryout.state) and still_runs(await closing_of_signup(db, tryout))


async def closing_of_signup(db: Snapshot, tryout: Tryout) -> list[ScheduledJob]:
    """The close of sign-up that is still to be handled."""
    return await scheduled_jobs.waiting_jobs(db, tryout.id, "signup-closes")

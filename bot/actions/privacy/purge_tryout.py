"""Names are erased: a whole try-out's on the day the plan says; and every night what was answered days ago."""

from datetime import datetime

from bot.actions.core.audit import append_entry
from bot.actions.core.scheduled_jobs import job
from bot.rules.calendar.job_times import JOB_TYPES
from bot.rules.privacy import retention
from bot.rules.privacy.retention import purge_at
from bot.words.privacy import purge_tryout as words
from bot.words.privacy.erased_labels import ERASED
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.store import Store
from storage.tables import (
    audit_log,
    live_messages,
    outbox,
    processed_interactions,
    purge_tryout,
    scheduled_jobs,
    tryouts,
)
from storage.tables.sql_session import Transaction


async def drop_processed_interactions(store: Store, now: datetime) -> None:
    """Forget interactions with their answers, which are kept in case the platform repeats one, every night.

    Raises:
        StorageFault: the database cannot be written at present.
    """
    await store.transact(lambda db: processed_interactions.drop_older(db, now - retention.INTERACTIONS_KEPT))


async def plan_purge(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Plan the day on which names are erased: the plan's retention days after the announcement, or after now."""
    await scheduled_jobs.schedule_job(
        db, tryout.id, "purge", "names", purge_at(tryout.plan, tryout.announced_at or now)
    )


@job("purge")
async def purge(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Erase names, accounts and comments; the try-out is put away if nobody has done so."""
    if tryout.state != "archived":
        for kind in JOB_TYPES:
            await scheduled_jobs.cancel_jobs(db, tryout.id, kind)
        await tryouts.set_state(db, tryout.id, "archived")
    await erase_all(db, tryout, now)


async def erase_all(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Erase every name of a try-out that is put away; the office reads that it was done."""
    await purge_tryout.purge(db, tryout.id, ERASED, now)
    by_number = await audit_log.names_accounts(db, tryout.id)
    await processed_interactions.drop_older(db, now - retention.INTERACTIONS_KEPT)
    await live_messages.mark_stale(db, tryout.id, "*")
    await outbox.enqueue(db, tryout.id, "office", words.purged(tryout.plan, by_number), now)
    await append_entry(db, tryout.id, now, "clock", "purge", {})

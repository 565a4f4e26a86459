"""Names are erased: a whole try-out's on the day the plan says."""

from datetime import datetime, timedelta

from bot.actions.core.audit import note
from bot.actions.core.scheduled_jobs import due
from bot.rules.calendar.agenda import KINDS
from bot.rules.calendar.calendar import purge_at
from bot.words.privacy import erase_person as words
from storage.records.delivery import Due
from storage.records.tryout import Tryout
from storage.tables import audit_log, privacy, queueing, tryouts
from storage.tables.sql_session import Transaction

RECEIPTS_KEPT = timedelta(hours=1)
"""The platform repeats an event within minutes."""


async def plan_purge(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Plan the day on which names are erased: the plan's retention days after the announcement, or after now."""
    await queueing.plan_due(db, tryout.id, "purge", "names", purge_at(tryout.plan, tryout.announced_at or now))


@due("purge")
async def purge(db: Transaction, tryout: Tryout, row: Due, now: datetime) -> None:
    """Erase names, accounts and comments; the try-out is put away if nobody has done so."""
    if tryout.state != "archived":
        for kind in KINDS:
            await queueing.cancel_dues(db, tryout.id, kind)
        await tryouts.set_state(db, tryout.id, "archived")
    await privacy.purge(db, tryout.id)
    await audit_log.drop_receipts(db, now - RECEIPTS_KEPT)
    await queueing.touch_cards(db, tryout.id, "*")
    await queueing.queue(db, tryout.id, "office", words.purged(tryout.plan), now)
    await note(db, tryout.id, now, "clock", "purge", {})


@due("tidy")
async def tidy(db: Transaction, tryout: Tryout, row: Due, now: datetime) -> None:
    """Let go of the accounts of people who have been taken out of a squad's room; wait while some are still in it."""
    await privacy.tidy_seats(db, tryout.id)
    if tryout.state != "archived" and await privacy.seats_to_empty(db, tryout.id):
        await queueing.plan_due(db, tryout.id, "tidy", f"{now:%Y%m%dT%H%M%S}", now + timedelta(hours=1))

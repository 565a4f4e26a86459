"""Names are erased: a whole try-out's on the day the plan says."""

from datetime import datetime, timedelta

from bot.clerk.dues import due
from bot.clerk.trail import note
from bot.rules.agenda import KINDS
from bot.rules.calendar import purge_at
from bot.words import privacy as words
from storage.records.delivery import Due
from storage.records.tryout import Tryout
from storage.tables import post, privacy, trail, tryouts
from storage.tables.session import Transaction

RECEIPTS_KEPT = timedelta(hours=1)
"""The platform repeats an event within minutes."""


async def plan_purge(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Plan the day on which names are erased: the plan's retention days after the announcement, or after now."""
    await post.plan_due(db, tryout.id, "purge", "names", purge_at(tryout.plan, tryout.announced_at or now))


@due("purge")
async def purge(db: Transaction, tryout: Tryout, row: Due, now: datetime) -> None:
    """Erase names, accounts and comments; the try-out is put away if nobody has done so."""
    if tryout.state != "archived":
        for kind in KINDS:
            await post.cancel_dues(db, tryout.id, kind)
        await tryouts.set_state(db, tryout.id, "archived")
    await privacy.purge(db, tryout.id)
    await trail.drop_receipts(db, now - RECEIPTS_KEPT)
    await post.touch_cards(db, tryout.id, "*")
    await post.queue(db, tryout.id, "office", words.purged(tryout.plan), now)
    await note(db, tryout.id, now, "clock", "purge", {})


@due("tidy")
async def tidy(db: Transaction, tryout: Tryout, row: Due, now: datetime) -> None:
    """Let go of the accounts of people who have been taken out of a squad's room; wait while some are still in it."""
    await privacy.tidy_seats(db, tryout.id)
    if tryout.state != "archived" and await privacy.seats_to_empty(db, tryout.id):
        await post.plan_due(db, tryout.id, "tidy", f"{now:%Y%m%dT%H%M%S}", now + timedelta(hours=1))

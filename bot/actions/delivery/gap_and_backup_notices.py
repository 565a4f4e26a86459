"""What the coach of every running try-out learns after the bot was away, and once when the nightly backup fails."""

from datetime import datetime

from bot.actions.delivery.destination import destination_of
from bot.rules.core.lateness import PUNCTUAL
from bot.rules.delivery import gap_and_backup_notices as rules
from bot.words.delivery import gap_and_backup_notices as words
from storage.store import Store
from storage.tables import delivery_incidents, outbox, tryouts
from storage.tables.gap_notice import came_late
from storage.tables.sql_session import Transaction

BACKUP = "backup"


async def tell_gap(store: Store, since: datetime, until: datetime, why: words.Why) -> int:
    """Tell each coach what fell into the gap; where nothing did, nothing is said. Returns how many were told.

    Raises:
        StorageFault: the database cannot be used at present.
    """
    told = 0
    async with store.write() as db:
        for tryout in await tryouts.all_running(db):
            late = []
            for one in await came_late(db, tryout.id, since, until, PUNCTUAL):
                what = (await destination_of(db, tryout.id, one.what)).label if one.message else one.what
                late.append((what, one.message, one.at))
            if rules.gap_is_told(tryout.rooms, len(late)):
                message = words.came_late(since, until, why, rules.in_order(late))
                await outbox.enqueue(db, tryout.id, "office", message, until)
                told += 1
    return told


async def backup_failed(store: Store, why: str, now: datetime) -> None:
    """Tell the coach of every running try-out, unless that is known; where there is no office yet, later.

    Raises:
        StorageFault: the database cannot be written either.
    """
    async with store.write() as db:
        for tryout in await tryouts.all_running(db):
            if not rules.can_be_told(tryout.rooms):
                continue
            known = not await delivery_incidents.add(db, tryout.id, "office", BACKUP, now)
            if rules.missing_backup_is_told(known):
                await outbox.enqueue(db, tryout.id, "office", words.backup_failing(why), now)


async def backup_worked(store: Store) -> None:
    """Should it fail again, the coach is told again."""
    await store.transact(_backup_worked)


async def _backup_worked(db: Transaction) -> None:
    for tryout in await tryouts.all_running(db):
        await delivery_incidents.end(db, tryout.id, "office", BACKUP)

"""What the coach learns of the nightly backup: once when it fails, and nothing while it works."""

from datetime import datetime

from bot.rules.delivery import backup_notice as rules
from bot.words.delivery import backup_notice as words
from storage.store import Store
from storage.tables import delivery_incidents, outbox, tryouts
from storage.tables.sql_session import Transaction

CAUSE = "backup"


async def failed(store: Store, why: str, now: datetime) -> None:
    """Tell the coach of every running try-out, unless that is known; where there is no office yet, later.

    Raises:
        StorageFault: the database cannot be written either.
    """
    async with store.write() as db:
        for tryout in await tryouts.all_running(db):
            if not rules.can_be_told(tryout.rooms):
                continue
            known = not await delivery_incidents.add(db, tryout.id, "office", CAUSE, now)
            if rules.is_told(known):
                await outbox.enqueue(db, tryout.id, "office", words.failing(why), now)


async def worked(store: Store) -> None:
    """Should it fail again, the coach is told again."""
    await store.transact(_worked)


async def _worked(db: Transaction) -> None:
    for tryout in await tryouts.all_running(db):
        await delivery_incidents.end(db, tryout.id, "office", CAUSE)

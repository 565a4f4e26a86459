"""After the bot was away: the coach of every running try-out learns what came late, and why."""

from datetime import datetime

from bot.actions.delivery.destination import destination_of
from bot.rules.core.lateness import PUNCTUAL
from bot.rules.delivery import gap_notice as rules
from bot.words.delivery import gap_notice as words
from storage.store import Store
from storage.tables import outbox, tryouts
from storage.tables.gap_notice import came_late


async def tell(store: Store, since: datetime, until: datetime, why: words.Why) -> int:
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
            if rules.is_told(tryout.rooms, len(late)):
                message = words.came_late(since, until, why, rules.in_order(late))
                await outbox.enqueue(db, tryout.id, "office", message, until)
                told += 1
    return told

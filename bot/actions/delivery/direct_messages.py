"""Direct messages of judges: whose are read, and what becomes of those who take none, or take them again."""

from datetime import datetime

from bot.actions.delivery.destination import Destination
from bot.actions.delivery.outbox_outcome import tell_once
from bot.words.delivery import undelivered as words
from storage.store import Store
from storage.tables import delivery_incidents, judges, live_messages, rooms, tryout_of_judge
from storage.tables.sql_session import Transaction


async def is_judge(store: Store, who: int) -> bool:
    """Whether an account judges in a try-out that runs; what others write is neither read nor answered."""
    return bool(await store.look(lambda db: tryout_of_judge.tryouts_judged_by(db, who)))


async def closed(db: Transaction, destination: Destination, now: datetime) -> None:
    """A judge takes no direct messages: outbox messages and live messages go to a private room instead."""
    await rooms.close_direct(db, destination.judge_id, now)
    await live_messages.forsaken(db, destination.tryout_id, destination.address)
    await tell_once(db, destination, "closed", words.trouble("closed", destination.label), now)


async def take_again(db: Transaction, tryout_id: int, judge_id: int) -> None:
    """The judge asked for direct messages (again): the next one is tried there, and live messages move there."""
    await rooms.reopen_direct(db, judge_id)
    await delivery_incidents.end(db, tryout_id, f"judge/{judge_id}", "closed")
    await live_messages.mark_stale(db, tryout_id, f"judge/{judge_id}")


async def lost(db: Transaction, destination: Destination) -> None:
    """The channel of a judge's direct messages is unknown to the platform: it is asked for anew."""
    await judges.set_direct(db, destination.judge_id, None)
    await live_messages.forsaken(db, destination.tryout_id, destination.address)

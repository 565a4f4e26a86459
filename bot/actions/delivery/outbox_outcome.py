"""What becomes of an outbox message: claimed, sent, put off, or given up, with the coach told once why."""

from datetime import datetime, timedelta

from bot.actions.delivery.destination import Destination
from bot.rules.delivery.backoff import backoff_delay
from bot.rules.delivery.undelivered import OVER_ONCE_SENT, is_told
from bot.words.delivery import undelivered as words
from storage.records.message import Message
from storage.records.outbox import OutboxMessage
from storage.tables import delivery_incidents, outbox
from storage.tables.sql_session import Transaction


async def sent(db: Transaction, outgoing: OutboxMessage, message_id: int | None, now: datetime) -> None:
    """The outbox message stands in its room.

    Raises:
        Conflict: that message is another outbox message's.
    """
    why = "deleted" if message_id is None else ""
    await outbox.settle(db, outgoing.id, "sent", now, message_id, why)
    await delivery_incidents.end(db, outgoing.tryout_id, outgoing.address, *OVER_ONCE_SENT)


async def skipped(db: Transaction, outgoing: OutboxMessage, why: str, now: datetime) -> None:
    """The outbox message is not sent any more, and that is right."""
    await outbox.settle(db, outgoing.id, "skipped", now, why=why)


async def put_off(
    db: Transaction, outgoing: OutboxMessage, now: datetime, why: str, doubtful: bool, wait: float | None = None
) -> None:
    """The outbox message is tried again later; `wait` is how many seconds the platform asked for."""
    pause = max(backoff_delay(outgoing.tries + 1), timedelta(seconds=wait or 0))
    await outbox.postpone(db, outgoing.id, now + pause, doubtful, why)


async def failed(
    db: Transaction, outgoing: OutboxMessage, destination: Destination, cause: str, now: datetime, code: str = ""
) -> None:
    """The outbox message cannot be delivered."""
    await outbox.settle(db, outgoing.id, "failed", now, why=f"{cause} {code}".strip())
    await tell_once(db, destination, cause, words.trouble(cause, destination.label, code), now)


async def tell_once(db: Transaction, destination: Destination, cause: str, message: Message, now: datetime) -> bool:
    """Tell the coach about a cause of trouble at a place unless that is known; whether it was told."""
    known = not await delivery_incidents.add(db, destination.tryout_id, destination.address, cause, now)
    if not is_told(destination.address, known):
        return False
    await outbox.enqueue(db, destination.tryout_id, "office", message, now)
    return True

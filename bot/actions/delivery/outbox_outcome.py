"""What becomes of a letter: claimed, sent, put off, or given up, with the coach told once why."""

from datetime import datetime, timedelta

from bot.actions.delivery.destination import Place
from bot.rules.core.backoff import patience
from bot.words.delivery import undelivered as words
from storage.records.delivery import Letter
from storage.records.message import Message
from storage.tables import judges, live_messages, outbox, queueing, rooms
from storage.tables.sql_session import Transaction

FAULTS_BORNE = 5
"""How often a letter is tried again after a mistake of our own."""
REOPEN_AGAIN = timedelta(hours=1)
"""A room that vanishes again within this time is not opened a third time."""


async def sent(db: Transaction, letter: Letter, message_id: int | None, now: datetime) -> None:
    """The letter stands in its room.

    Raises:
        Conflict: that message is another letter's.
    """
    why = "deleted" if message_id is None else ""
    await outbox.settle(db, letter.id, "sent", now, message_id, why)
    await outbox.end_trouble(db, letter.tryout_id, letter.to, "gone", "forbidden", "no-room")


async def skipped(db: Transaction, letter: Letter, why: str, now: datetime) -> None:
    """The letter is not sent any more, and that is right."""
    await outbox.settle(db, letter.id, "skipped", now, why=why)


async def put_off(
    db: Transaction, letter: Letter, now: datetime, why: str, doubtful: bool, wait: float | None = None
) -> None:
    """The letter is tried again later; `wait` is how many seconds the platform asked for."""
    pause = max(patience(letter.tries + 1), timedelta(seconds=wait or 0))
    await outbox.postpone(db, letter.id, now + pause, doubtful, why)


async def failed(db: Transaction, letter: Letter, place: Place, cause: str, now: datetime, code: str = "") -> None:
    """The letter cannot be delivered."""
    await outbox.settle(db, letter.id, "failed", now, why=f"{cause} {code}".strip())
    await tell_once(db, place, cause, words.trouble(cause, place.label, code), now)


async def tell_once(db: Transaction, place: Place, cause: str, message: Message, now: datetime) -> bool:
    """Tell the coach about a cause of trouble at a place unless that is known; whether it was told."""
    if not await outbox.add_trouble(db, place.tryout_id, place.to, cause, now):
        return False
    if place.to == "office":
        # Nobody reads what is not delivered; it stays in the list of what failed.
        return False
    await queueing.queue(db, place.tryout_id, "office", message, now)
    return True


async def direct_closed(db: Transaction, place: Place, now: datetime) -> None:
    """A judge takes no direct messages: letters and living messages go to a private room instead."""
    await rooms.close_direct(db, place.judge_id, now)
    await live_messages.forsaken(db, place.tryout_id, place.to)
    await tell_once(db, place, "closed", words.trouble("closed", place.label), now)


async def direct_lost(db: Transaction, place: Place) -> None:
    """The channel of a judge's direct messages is unknown to the platform: it is asked for anew."""
    await judges.set_direct(db, place.judge_id, None)
    await live_messages.forsaken(db, place.tryout_id, place.to)


async def take_direct_again(db: Transaction, tryout_id: int, judge_id: int) -> None:
    """The judge asked for direct messages (again): the next one is tried there, and living messages move there."""
    await rooms.reopen_direct(db, judge_id)
    await outbox.end_trouble(db, tryout_id, f"judge/{judge_id}", "closed")
    await queueing.touch_cards(db, tryout_id, f"judge/{judge_id}")


async def room_lost(db: Transaction, place: Place, now: datetime) -> bool:
    """A private room is gone: open a new one, unless that happened shortly before; whether it will be opened."""
    since = await outbox.trouble_since(db, place.tryout_id, place.to, "reopened")
    if since is not None:
        if now - since < REOPEN_AGAIN:
            return False
        await outbox.end_trouble(db, place.tryout_id, place.to, "reopened")
    if place.squad_id:
        await rooms.lost(db, place.squad_id)
    else:
        await rooms.set_judge_room(db, place.judge_id, None)
    await live_messages.forsaken(db, place.tryout_id, place.to)
    await tell_once(db, place, "reopened", words.trouble("reopened", place.label), now)
    return True

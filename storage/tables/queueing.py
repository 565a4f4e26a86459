"""What the clerk puts into the post: letters, cards (living messages), and what is due when."""

from datetime import datetime

from storage.records.delivery import Card, Due, Letter
from storage.records.message import Message
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def queue(
    db: Transaction, tryout_id: int, to: str, message: Message, now: datetime, stale_after: datetime | None = None
) -> int:
    """Put a letter into the outbox; it is sent once, after everything queued before it for the same address."""
    letter_id = await db.insert(
        'INSERT INTO letter (tryout_id, "to", message_json, nonce, not_before, stale_after, queued_at) '
        "VALUES (?, ?, ?, hex(randomblob(12)), ?, ?, ?)",
        tryout_id,
        to,
        message.model_dump_json(),
        stamp(now),
        None if stale_after is None else stamp(stale_after),
        stamp(now),
    )
    await db.run("UPDATE letter SET nonce = (SELECT tag FROM database) || '-' || id WHERE id = ?", letter_id)
    return letter_id


async def letter(db: Snapshot, letter_id: int) -> Letter | None:
    """One letter by id."""
    return await db.one(Letter, "SELECT * FROM letter WHERE id = ?", letter_id)


async def place_card(db: Transaction, tryout_id: int, key: str, to: str, pinned: bool = False) -> None:
    """Have a living message at an address; it is written, or moved there, by the courier."""
    await db.run(
        'INSERT INTO card (tryout_id, key, "to", pinned) VALUES (?, ?, ?, ?) '
        'ON CONFLICT (tryout_id, key) DO UPDATE SET stale = stale + 1, "to" = excluded."to", '
        "pin_open = pin_open OR (excluded.pinned AND NOT pinned AND message_id IS NOT NULL), pinned = excluded.pinned",
        tryout_id,
        key,
        to,
        pinned,
    )


async def count_cards(db: Snapshot, tryout_id: int, pattern: str) -> int:
    """How many living messages have such keys (`pattern` is a GLOB)."""
    return int(await db.value("SELECT count(*) FROM card WHERE tryout_id = ? AND key GLOB ?", tryout_id, pattern))


async def touch_cards(db: Transaction, tryout_id: int, pattern: str) -> None:
    """What the cards with these keys show may have changed (`pattern` is a GLOB, such as `roster/*`)."""
    await db.run("UPDATE card SET stale = stale + 1 WHERE tryout_id = ? AND key GLOB ?", tryout_id, pattern)


async def card(db: Snapshot, tryout_id: int, key: str) -> Card | None:
    """One living message."""
    return await db.one(Card, "SELECT * FROM card WHERE tryout_id = ? AND key = ?", tryout_id, key)


async def plan_due(
    db: Transaction, tryout_id: int, kind: str, key: str, at: datetime, stale_after: datetime | None = None
) -> None:
    """Have something happen at an instant; planning it again moves it unless it has been handled."""
    await db.run(
        "INSERT INTO due (tryout_id, kind, key, at, stale_after) VALUES (?, ?, ?, ?, ?) "
        "ON CONFLICT (tryout_id, kind, key) WHERE state <> 'cancelled' DO UPDATE "
        "SET at = excluded.at, stale_after = excluded.stale_after WHERE state = 'waiting'",
        tryout_id,
        kind,
        key,
        stamp(at),
        None if stale_after is None else stamp(stale_after),
    )


async def cancel_dues(db: Transaction, tryout_id: int, kind: str) -> None:
    """Nothing of this kind shall happen any more."""
    await db.run(
        "UPDATE due SET state = 'cancelled' WHERE tryout_id = ? AND kind = ? AND state = 'waiting'", tryout_id, kind
    )


async def dues(db: Snapshot, tryout_id: int) -> list[Due]:
    """Everything planned, in time order, whatever became of it."""
    return await db.all(Due, "SELECT * FROM due WHERE tryout_id = ? ORDER BY at, id", tryout_id)

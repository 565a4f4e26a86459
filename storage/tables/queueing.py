"""What the actions put into delivery: outbox messages, live messages, and what is due when."""

from collections.abc import Iterable
from datetime import datetime

from storage.records.delivery import LiveMessage, OutboxMessage, ScheduledJob
from storage.records.message import Message
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def enqueue(
    db: Transaction, tryout_id: int, address: str, message: Message, now: datetime, stale_after: datetime | None = None
) -> int:
    """Put a message into the outbox; it is sent once, after everything queued before it for the same address."""
    # The number is the one that AUTOINCREMENT would give, so that the nonce can be made of it at once.
    return await db.insert(
        "INSERT INTO outbox_message (id, nonce, tryout_id, address, message_json, not_before, stale_after, queued_at) "
        "SELECT number, tag || '-' || number, ?, ?, ?, ?, ?, ? FROM database_identity, "
        "(SELECT coalesce((SELECT seq FROM sqlite_sequence WHERE name = 'outbox_message'), 0) + 1 AS number)",
        tryout_id,
        address,
        message.model_dump_json(),
        stamp(now),
        None if stale_after is None else stamp(stale_after),
        stamp(now),
    )


async def outbox_message(db: Snapshot, outbox_id: int) -> OutboxMessage | None:
    """One outbox message by id."""
    return await db.one(OutboxMessage, "SELECT * FROM outbox_message WHERE id = ?", outbox_id)


_PLACE = (
    "INSERT INTO live_message (tryout_id, key, address, pinned) VALUES (?, ?, ?, ?) "
    "ON CONFLICT (tryout_id, key) DO UPDATE SET stale = stale + 1, address = excluded.address, "
    "pin_open = pin_open OR (excluded.pinned AND NOT pinned AND message_id IS NOT NULL), pinned = excluded.pinned"
)


async def place_live_message(db: Transaction, tryout_id: int, key: str, address: str, pinned: bool = False) -> None:
    """Have a live message at an address; it is written, or moved there, by the delivery worker."""
    await db.run(_PLACE, tryout_id, key, address, pinned)


async def place_live_messages(db: Transaction, tryout_id: int, cards: Iterable[tuple[str, str]]) -> None:
    """Have live messages, each a key and its address; those that are there already are shown anew."""
    await db.run_many(_PLACE, [(tryout_id, key, address, False) for key, address in cards])


async def count_live_messages(db: Snapshot, tryout_id: int, pattern: str) -> int:
    """How many live messages have such keys (`pattern` is a GLOB)."""
    return int(
        await db.value("SELECT count(*) FROM live_message WHERE tryout_id = ? AND key GLOB ?", tryout_id, pattern)
    )


async def mark_stale(db: Transaction, tryout_id: int, pattern: str) -> None:
    """What the live messages with these keys show may have changed (`pattern` is a GLOB, such as `roster/*`)."""
    await db.run("UPDATE live_message SET stale = stale + 1 WHERE tryout_id = ? AND key GLOB ?", tryout_id, pattern)


async def live_message(db: Snapshot, tryout_id: int, key: str) -> LiveMessage | None:
    """One live message."""
    return await db.one(LiveMessage, "SELECT * FROM live_message WHERE tryout_id = ? AND key = ?", tryout_id, key)


async def schedule_job(
    db: Transaction, tryout_id: int, kind: str, key: str, at: datetime, stale_after: datetime | None = None
) -> None:
    """Have something happen at an instant; planning it again moves it unless it has been handled."""
    await db.run(
        "INSERT INTO scheduled_job (tryout_id, kind, key, at, stale_after) VALUES (?, ?, ?, ?, ?) "
        "ON CONFLICT (tryout_id, kind, key) WHERE state <> 'cancelled' DO UPDATE "
        "SET at = excluded.at, stale_after = excluded.stale_after WHERE state = 'waiting'",
        tryout_id,
        kind,
        key,
        stamp(at),
        None if stale_after is None else stamp(stale_after),
    )


async def cancel_jobs(db: Transaction, tryout_id: int, kind: str) -> None:
    """Nothing of this kind shall happen any more."""
    await db.run(
        "UPDATE scheduled_job SET state = 'cancelled' WHERE tryout_id = ? AND kind = ? AND state = 'waiting'",
        tryout_id,
        kind,
    )


async def waiting_jobs(db: Snapshot, tryout_id: int, kind: str, beginning: str = "") -> list[ScheduledJob]:
    """What of one kind is still to happen, in time order; only keys that begin so."""
    return await db.all(
        ScheduledJob,
        "SELECT * FROM scheduled_job WHERE tryout_id = ? AND kind = ? AND key >= ? AND key < ? || char(1114111) "
        "AND state = 'waiting' AND state <> 'cancelled' ORDER BY at, id",
        tryout_id,
        kind,
        beginning,
        beginning,
    )


async def scheduled_jobs(db: Snapshot, tryout_id: int) -> list[ScheduledJob]:
    """Everything planned, in time order, whatever became of it."""
    return await db.all(ScheduledJob, "SELECT * FROM scheduled_job WHERE tryout_id = ? ORDER BY at, id", tryout_id)


async def texts(db: Snapshot, tryout_id: int, address: str, beginning: str) -> list[str]:
    """The texts of all messages for an address that begin so, oldest first."""
    found = await db.rows(
        "SELECT json_extract(message_json, '$.text') FROM outbox_message WHERE tryout_id = ? AND address = ? "
        "AND substr(json_extract(message_json, '$.text'), 1, ?) = ? ORDER BY id",
        tryout_id,
        address,
        len(beginning),
        beginning,
    )
    return [str(row[0]) for row in found]

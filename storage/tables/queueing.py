"""What the actions puts into delivery: outbox messages, live messages (live messages), and what is due when."""

from datetime import datetime

from storage.records.delivery import LiveMessage, OutboxMessage, ScheduledJob
from storage.records.message import Message
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def enqueue(
    db: Transaction, tryout_id: int, address: str, message: Message, now: datetime, stale_after: datetime | None = None
) -> int:
    """Put a message into the outbox; it is sent once, after everything queued before it for the same address."""
    outbox_id = await db.insert(
        "INSERT INTO outbox_message (tryout_id, address, message_json, nonce, not_before, stale_after, queued_at) "
        "VALUES (?, ?, ?, hex(randomblob(12)), ?, ?, ?)",
        tryout_id,
        address,
        message.model_dump_json(),
        stamp(now),
        None if stale_after is None else stamp(stale_after),
        stamp(now),
    )
    await db.run(
        "UPDATE outbox_message SET nonce = (SELECT tag FROM database_identity) || '-' || id WHERE id = ?", outbox_id
    )
    return outbox_id


async def outbox_message(db: Snapshot, outbox_id: int) -> OutboxMessage | None:
    """One outbox message by id."""
    return await db.one(OutboxMessage, "SELECT * FROM outbox_message WHERE id = ?", outbox_id)


async def place_live_message(db: Transaction, tryout_id: int, key: str, address: str, pinned: bool = False) -> None:
    """Have a live message at an address; it is written, or moved there, by the delivery worker."""
    await db.run(
        "INSERT INTO live_message (tryout_id, key, address, pinned) VALUES (?, ?, ?, ?) "
        "ON CONFLICT (tryout_id, key) DO UPDATE SET stale = stale + 1, address = excluded.address, "
        "pin_open = pin_open OR (excluded.pinned AND NOT pinned AND message_id IS NOT NULL), pinned = excluded.pinned",
        tryout_id,
        key,
        address,
        pinned,
    )


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


async def scheduled_jobs(db: Snapshot, tryout_id: int) -> list[ScheduledJob]:
    """Everything planned, in time order, whatever became of it."""
    return await db.all(ScheduledJob, "SELECT * FROM scheduled_job WHERE tryout_id = ? ORDER BY at, id", tryout_id)


async def newest_text(db: Snapshot, tryout_id: int, address: str, beginning: str) -> str:
    """The text of the newest message for an address that begins so; empty when there is none."""
    found = await db.rows(
        "SELECT json_extract(message_json, '$.text') FROM outbox_message WHERE tryout_id = ? AND address = ? "
        "AND substr(json_extract(message_json, '$.text'), 1, ?) = ? ORDER BY id DESC LIMIT 1",
        tryout_id,
        address,
        len(beginning),
        beginning,
    )
    return str(found[0][0]) if found else ""

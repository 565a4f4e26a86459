"""The outbox: messages are put into it, claimed, sent and settled in order at each address, and read again."""

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from storage.records.message import Message
from storage.records.outbox import OutboxMessage
from storage.tables.sql_session import Snapshot, Transaction, stamp


class QueueHead(NamedTuple):
    """The outbox message whose turn it is at an address; those behind it wait."""

    tryout_id: int
    address: str
    outbox_id: int
    tries: int
    not_before: datetime
    stale_after: datetime | None


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


async def get(db: Snapshot, outbox_id: int) -> OutboxMessage | None:
    """One outbox message by id."""
    return await db.one(OutboxMessage, "SELECT * FROM outbox_message WHERE id = ?", outbox_id)


OPEN = "state IN ('queued', 'claimed')"


async def heads(db: Snapshot) -> list[QueueHead]:
    """The first open outbox message of every address, oldest first."""
    found = await db.rows(
        "SELECT tryout_id, address, id, tries, not_before, stale_after FROM outbox_message WHERE id IN "
        f"(SELECT min(id) FROM outbox_message WHERE {OPEN} GROUP BY tryout_id, address) "
        "ORDER BY id"
    )
    return [
        QueueHead(
            row["tryout_id"],
            row["address"],
            row["id"],
            row["tries"],
            datetime.fromisoformat(row["not_before"]),
            None if row["stale_after"] is None else datetime.fromisoformat(row["stale_after"]),
        )
        for row in found
    ]


async def head(db: Snapshot, tryout_id: int, address: str) -> OutboxMessage | None:
    """The outbox message whose turn it is at an address."""
    return await db.one(
        OutboxMessage,
        f"SELECT * FROM outbox_message WHERE tryout_id = ? AND address = ? AND {OPEN} ORDER BY id LIMIT 1",
        tryout_id,
        address,
    )


_REDACTED = "message_json = coalesce(redacted, message_json), redacted = NULL"
"""A name that was erased while it was on its way goes out of it: nobody has to find it by its words any more."""


async def claim(db: Transaction, outbox_id: int, room_id: int, now: datetime) -> OutboxMessage | None:
    """Note that an outbox message is about to be posted in a room: from here on it may stand there.

    It is given back as it is to be posted, without a name that was erased since; None when it is not to be sent any
    more.
    """
    claimed = await db.run(
        f"UPDATE outbox_message SET state = 'claimed', room_id = ?, claimed_at = coalesce(claimed_at, ?), {_REDACTED} "
        "WHERE id = ? AND state IN ('queued', 'claimed')",
        room_id,
        stamp(now),
        outbox_id,
    )
    return await get(db, outbox_id) if claimed else None


async def settle(
    db: Transaction, outbox_id: int, state: str, now: datetime, message_id: int | None = None, why: str = ""
) -> None:
    """Note what became of an outbox message: `sent`, `skipped` or `failed`.

    Raises:
        Conflict: the message belongs to another outbox message.
    """
    await db.run(
        f"UPDATE outbox_message SET state = ?, message_id = ?, why = ?, settled_at = ?, {_REDACTED} "
        "WHERE id = ? AND state IN ('queued', 'claimed')",
        state,
        message_id,
        why,
        stamp(now),
        outbox_id,
    )


async def postpone(db: Transaction, outbox_id: int, until: datetime, doubtful: bool, why: str) -> None:
    """Try an outbox message again later; `doubtful` if it may have been posted, so that it is looked for first."""
    await db.run(
        "UPDATE outbox_message SET not_before = ?1, why = ?2, tries = tries + 1, "
        "state = iif(?3 AND claimed_at IS NOT NULL, 'claimed', 'queued'), "
        "message_json = iif(?3, message_json, coalesce(redacted, message_json)), redacted = iif(?3, redacted, NULL) "
        "WHERE id = ?4 AND state IN ('queued', 'claimed')",
        stamp(until),
        why,
        doubtful,
        outbox_id,
    )


async def recorded(db: Snapshot, message_ids: Sequence[int]) -> set[int]:
    """Those of these messages that we know as an outbox message or a live message."""
    marks = ", ".join("?" * len(message_ids))
    found = await db.rows(
        f"SELECT message_id FROM outbox_message WHERE message_id IN ({marks}) "
        f"UNION SELECT message_id FROM live_message WHERE message_id IN ({marks}) "
        f"UNION SELECT old_message_id FROM live_message WHERE old_message_id IN ({marks})",
        *message_ids,
        *message_ids,
        *message_ids,
    )
    return {row[0] for row in found}


async def count_failed(db: Snapshot, tryout_id: int, now: datetime) -> int:
    """How many messages could not be delivered and are not too late to be tried again."""
    return int(
        await db.value(
            "SELECT count(*) FROM outbox_message WHERE tryout_id = ? AND state = 'failed' "
            "AND (stale_after IS NULL OR stale_after > ?)",
            tryout_id,
            stamp(now),
        )
    )


async def hurry(db: Transaction, tryout_id: int, now: datetime) -> None:
    """Do not wait any longer with what was put off."""
    await db.run(
        "UPDATE outbox_message SET not_before = ?1 WHERE tryout_id = ?2 AND state IN ('queued', 'claimed') "
        "AND tries > 0 AND not_before > ?1",
        stamp(now),
        tryout_id,
    )


async def take_back(db: Transaction, tryout_id: int, now: datetime) -> int:
    """Put outbox messages that failed back into the outbox unless they are too late by now; returns how many.

    One that may stand in its room after all will be looked for first.
    """
    return await db.run(
        "UPDATE outbox_message SET state = iif(claimed_at IS NULL, 'queued', 'claimed'), why = '', tries = 0, "
        "settled_at = NULL, not_before = ? "
        "WHERE tryout_id = ? AND state = 'failed' AND (stale_after IS NULL OR stale_after > ?)",
        stamp(now),
        tryout_id,
        stamp(now),
    )


async def texts_to(db: Snapshot, tryout_id: int, addresses: Sequence[str]) -> list[tuple[datetime, str]]:
    """Instant and text of every message to these addresses, oldest first."""
    places = ", ".join("?" * len(addresses))
    rows = await db.rows(
        "SELECT queued_at, json_extract(message_json, '$.text') AS text FROM outbox_message "
        f"WHERE tryout_id = ? AND address IN ({places}) ORDER BY queued_at, id",
        tryout_id,
        *addresses,
    )
    return [(datetime.fromisoformat(row["queued_at"]), row["text"]) for row in rows]


async def texts_beginning(db: Snapshot, tryout_id: int, address: str, beginning: str) -> list[str]:
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

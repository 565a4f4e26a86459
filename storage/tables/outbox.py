"""The outbox, as the courier sees it: the first open letter of every address, claimed, sent and settled."""

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from storage.records.delivery import Letter
from storage.tables.sql_session import Snapshot, Transaction, stamp


class Head(NamedTuple):
    """The letter whose turn it is at an address; those behind it wait."""

    tryout_id: int
    to: str
    letter_id: int
    tries: int
    not_before: datetime
    stale_after: datetime | None


async def heads(db: Snapshot) -> list[Head]:
    """The first open letter of every address, oldest first."""
    found = await db.rows(
        'SELECT tryout_id, "to", id, tries, not_before, stale_after FROM letter WHERE id IN '
        "(SELECT min(id) FROM letter WHERE state IN ('queued', 'claimed') GROUP BY tryout_id, \"to\") ORDER BY id"
    )
    return [
        Head(
            row["tryout_id"],
            row["to"],
            row["id"],
            row["tries"],
            datetime.fromisoformat(row["not_before"]),
            None if row["stale_after"] is None else datetime.fromisoformat(row["stale_after"]),
        )
        for row in found
    ]


async def head(db: Snapshot, tryout_id: int, to: str) -> Letter | None:
    """The letter whose turn it is at an address."""
    return await db.one(
        Letter,
        "SELECT * FROM letter WHERE tryout_id = ? AND \"to\" = ? AND state IN ('queued', 'claimed') "
        "ORDER BY id LIMIT 1",
        tryout_id,
        to,
    )


async def claim(db: Transaction, letter_id: int, room_id: int, now: datetime) -> None:
    """Note that a letter is about to be posted in a room: from here on it may stand there."""
    await db.run(
        "UPDATE letter SET state = 'claimed', room_id = ?, claimed_at = coalesce(claimed_at, ?) "
        "WHERE id = ? AND state IN ('queued', 'claimed')",
        room_id,
        stamp(now),
        letter_id,
    )


async def settle(
    db: Transaction, letter_id: int, state: str, now: datetime, message_id: int | None = None, why: str = ""
) -> None:
    """Note what became of a letter: `sent`, `skipped` or `failed`.

    Raises:
        Conflict: the message belongs to another letter.
    """
    await db.run(
        "UPDATE letter SET state = ?, message_id = ?, why = ?, settled_at = ? "
        "WHERE id = ? AND state IN ('queued', 'claimed')",
        state,
        message_id,
        why,
        stamp(now),
        letter_id,
    )


async def postpone(db: Transaction, letter_id: int, until: datetime, doubtful: bool, why: str) -> None:
    """Try a letter again later; `doubtful` if it may have been posted, so that it is looked for first."""
    await db.run(
        "UPDATE letter SET not_before = ?, why = ?, tries = tries + 1, "
        "state = iif(? AND claimed_at IS NOT NULL, 'claimed', 'queued') "
        "WHERE id = ? AND state IN ('queued', 'claimed')",
        stamp(until),
        why,
        doubtful,
        letter_id,
    )


async def recorded(db: Snapshot, message_ids: Sequence[int]) -> set[int]:
    """Those of these messages that we know as a letter or a card."""
    marks = ", ".join("?" * len(message_ids))
    found = await db.rows(
        f"SELECT message_id FROM letter WHERE message_id IN ({marks}) "
        f"UNION SELECT message_id FROM card WHERE message_id IN ({marks}) "
        f"UNION SELECT old_message_id FROM card WHERE old_message_id IN ({marks})",
        *message_ids,
        *message_ids,
        *message_ids,
    )
    return {row[0] for row in found}


async def add_trouble(db: Transaction, tryout_id: int, to: str, cause: str, now: datetime) -> bool:
    """Note that something does not get through for a cause; whether that is new."""
    return bool(
        await db.run(
            'INSERT OR IGNORE INTO trouble (tryout_id, "to", cause, at) VALUES (?, ?, ?, ?)',
            tryout_id,
            to,
            cause,
            stamp(now),
        )
    )


async def trouble_since(db: Snapshot, tryout_id: int, to: str, cause: str) -> datetime | None:
    """Since when the coach knows of a cause of trouble at an address."""
    found = await db.value(
        'SELECT at FROM trouble WHERE tryout_id = ? AND "to" = ? AND cause = ?', tryout_id, to, cause
    )
    return datetime.fromisoformat(found) if found else None


async def end_trouble(db: Transaction, tryout_id: int, to: str, *causes: str) -> None:
    """These causes are over: should they come back, the coach is told again."""
    for cause in causes:
        await db.run('DELETE FROM trouble WHERE tryout_id = ? AND "to" = ? AND cause = ?', tryout_id, to, cause)


async def end_all_trouble(db: Transaction, tryout_id: int) -> None:
    """Whatever still does not get through is told again."""
    await db.run("DELETE FROM trouble WHERE tryout_id = ?", tryout_id)


async def take_back(db: Transaction, tryout_id: int, now: datetime) -> int:
    """Put letters that failed back into the outbox unless they are too late by now; returns how many.

    One that may stand in its room after all will be looked for first.
    """
    return await db.run(
        "UPDATE letter SET state = iif(claimed_at IS NULL, 'queued', 'claimed'), why = '', tries = 0, "
        "settled_at = NULL, not_before = ? "
        "WHERE tryout_id = ? AND state = 'failed' AND (stale_after IS NULL OR stale_after >= ?)",
        stamp(now),
        tryout_id,
        stamp(now),
    )

"""Live messages: placed at an address, marked stale when what they show changes, shown anew by the delivery worker."""

from collections.abc import Iterable
from datetime import datetime

from storage.records.live_messages import LiveMessage
from storage.tables.sql_session import Snapshot, Transaction, stamp

_PLACE = (
    "INSERT INTO live_message (tryout_id, key, address, pinned) VALUES (?, ?, ?, ?) "
    "ON CONFLICT (tryout_id, key) DO UPDATE SET stale = stale + 1, address = excluded.address, "
    "pin_open = pin_open OR (excluded.pinned AND NOT pinned AND message_id IS NOT NULL), pinned = excluded.pinned"
)


async def place(db: Transaction, tryout_id: int, key: str, address: str, pinned: bool = False) -> None:
    """Have a live message at an address; it is written, or moved there, by the delivery worker."""
    await db.run(_PLACE, tryout_id, key, address, pinned)


async def place_all(db: Transaction, tryout_id: int, messages: Iterable[tuple[str, str]]) -> None:
    """Have live messages, each a key and its address; those that are there already are shown anew."""
    await db.run_many(_PLACE, [(tryout_id, key, address, False) for key, address in messages])


async def count(db: Snapshot, tryout_id: int, pattern: str) -> int:
    """How many live messages have such keys (`pattern` is a GLOB)."""
    return int(
        await db.value("SELECT count(*) FROM live_message WHERE tryout_id = ? AND key GLOB ?", tryout_id, pattern)
    )


async def mark_stale(db: Transaction, tryout_id: int, pattern: str) -> None:
    """What the live messages with these keys show may have changed (`pattern` is a GLOB, such as `roster/*`)."""
    await db.run("UPDATE live_message SET stale = stale + 1 WHERE tryout_id = ? AND key GLOB ?", tryout_id, pattern)


async def by_key(db: Snapshot, tryout_id: int, key: str) -> LiveMessage | None:
    """One live message by its key."""
    return await db.one(LiveMessage, "SELECT * FROM live_message WHERE tryout_id = ? AND key = ?", tryout_id, key)


OPEN = "(stale > 0 OR (message_id IS NOT NULL AND (pin_open = 1 OR old_message_id IS NOT NULL)))"


async def open_live_messages(db: Snapshot) -> list[LiveMessage]:
    """All live messages with something to do, oldest first."""
    return await db.all(
        LiveMessage, f"SELECT * FROM live_message INDEXED BY live_message_open WHERE {OPEN} ORDER BY id"
    )


async def open_at(db: Snapshot, tryout_id: int, address: str) -> list[LiveMessage]:
    """The live messages of one address with something to do, oldest first."""
    return await db.all(
        LiveMessage,
        f"SELECT * FROM live_message WHERE tryout_id = ? AND address = ? AND {OPEN} ORDER BY id",
        tryout_id,
        address,
    )


async def get(db: Snapshot, live_id: int) -> LiveMessage | None:
    """One live message by id."""
    return await db.one(LiveMessage, "SELECT * FROM live_message WHERE id = ?", live_id)


async def claim(db: Transaction, live_id: int, room_id: int, text: str, now: datetime) -> None:
    """Note that a live message is about to be posted in a room: from here on it may stand there.

    A message that it has now becomes the old one, to be deleted once the new one stands.
    """
    await db.run(
        "UPDATE live_message SET posts = posts + (claimed_at IS NULL), claimed_at = coalesce(claimed_at, ?), "
        "claimed_text = ?, "
        "old_room_id = iif(message_id IS NULL, old_room_id, room_id), "
        "old_message_id = coalesce(message_id, old_message_id), message_id = NULL, room_id = ? WHERE id = ?",
        stamp(now),
        text,
        room_id,
        live_id,
    )


async def nonce(db: Snapshot, live_id: int) -> str:
    """The nonce under which a live message is being posted: the same until it stands."""
    return str(
        await db.value(
            "SELECT (SELECT tag FROM database_identity) || 'c' || id || '-' || posts FROM live_message WHERE id = ?",
            live_id,
        )
    )


async def posted(db: Transaction, live_id: int, message_id: int, shown: str, seen: int, now: datetime) -> None:
    """Note that a live message stands as a new message, showing `seen` of its changes."""
    await db.run(
        "UPDATE live_message SET message_id = ?, shown = ?, stale = max(stale - ?, 0), pin_open = pinned, "
        "edited_at = ?, "
        "old_edits = 0, claimed_at = NULL, claimed_text = NULL, failed = '' WHERE id = ?",
        message_id,
        shown,
        seen,
        stamp(now),
        live_id,
    )


async def edited(db: Transaction, live_id: int, shown: str, seen: int, now: datetime, old: bool = False) -> None:
    """Note that a live message was edited and shows `seen` more of its changes; `old` messages are counted."""
    await db.run(
        "UPDATE live_message SET shown = ?, stale = max(stale - ?, 0), edited_at = ?, old_edits = old_edits + ?, "
        "failed = '' "
        "WHERE id = ?",
        shown,
        seen,
        stamp(now),
        old,
        live_id,
    )


async def doubted(db: Transaction, message_id: int) -> None:
    """What the message of a live message shows is not known, if it is one: it is shown anew."""
    await db.run("UPDATE live_message SET shown = '', stale = stale + 1 WHERE message_id = ?", message_id)


async def all_doubted(db: Transaction, pattern: str) -> None:
    """What these live messages show is not known (`pattern` is a GLOB, such as `judge/*`): they are shown anew."""
    await db.run("UPDATE live_message SET shown = '', stale = stale + 1 WHERE key GLOB ?", pattern)


async def settled(db: Transaction, live_id: int, seen: int, failed: str = "") -> None:
    """Note that these changes need nothing more: they show already, or cannot be shown."""
    await db.run("UPDATE live_message SET stale = max(stale - ?, 0), failed = ? WHERE id = ?", seen, failed, live_id)


async def vanished(db: Transaction, live_id: int) -> None:
    """Note that a live message's message is no longer there; one that it took the place of may still be."""
    await db.run(
        "UPDATE live_message SET message_id = NULL, shown = '', pin_open = 0, claimed_at = NULL, claimed_text = NULL "
        "WHERE id = ?",
        live_id,
    )


async def forsaken(db: Transaction, tryout_id: int, address: str) -> None:
    """The room of these live messages is no longer there: they are written anew in the next one."""
    await db.run(
        "UPDATE live_message SET message_id = NULL, shown = '', pin_open = 0, claimed_at = NULL, claimed_text = NULL, "
        "old_room_id = NULL, old_message_id = NULL, stale = stale + 1 WHERE tryout_id = ? AND address = ?",
        tryout_id,
        address,
    )


async def old_gone(db: Transaction, live_id: int) -> None:
    """Note that the message a live message took the place of is deleted."""
    await db.run("UPDATE live_message SET old_room_id = NULL, old_message_id = NULL WHERE id = ?", live_id)


async def pin_done(db: Transaction, live_id: int) -> None:
    """Note that nothing more is to be done about a live message's pin."""
    await db.run("UPDATE live_message SET pin_open = 0 WHERE id = ?", live_id)


async def dropped(db: Transaction, live_id: int) -> None:
    """Nobody will read this live message any more: there is nothing left to do for it."""
    await db.run(
        "UPDATE live_message SET stale = 0, pin_open = 0, old_room_id = NULL, old_message_id = NULL WHERE id = ?",
        live_id,
    )

"""Which events are open for judging."""

from datetime import datetime

from storage.records.judging import OpenEvent
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def opened(db: Snapshot, tryout_id: int) -> dict[str, OpenEvent]:
    """The events whose sheets were handed out, by key, closed ones included."""
    found = await db.all(
        OpenEvent, "SELECT * FROM judged_event WHERE tryout_id = ? ORDER BY opened_at, event", tryout_id
    )
    return {one.event: one for one in found}


async def open_event(db: Transaction, tryout_id: int, event: str, now: datetime) -> None:
    """Open an event for judging, or open it again."""
    await db.run(
        "INSERT INTO judged_event (tryout_id, event, opened_at) VALUES (?, ?, ?) "
        "ON CONFLICT (tryout_id, event) DO UPDATE SET closed_at = NULL",
        tryout_id,
        event,
        stamp(now),
    )


async def close_events(db: Transaction, tryout_id: int, now: datetime) -> None:
    """Close judging of every event."""
    await db.run(
        "UPDATE judged_event SET closed_at = ? WHERE tryout_id = ? AND closed_at IS NULL", stamp(now), tryout_id
    )

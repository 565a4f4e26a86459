"""Which surprise events have been started."""

from datetime import datetime

from storage.records.plan import Event
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def started(db: Snapshot, tryout_id: int) -> frozenset[str]:
    """The keys of the surprise events that everybody may read by now."""
    found = await db.rows("SELECT event FROM started_event WHERE tryout_id = ?", tryout_id)
    return frozenset(row["event"] for row in found)


async def start(db: Transaction, tryout_id: int, event: str, now: datetime) -> None:
    """Let everybody read a surprise event from now on.

    Raises:
        Conflict: it was started before.
    """
    sql = "INSERT INTO started_event (tryout_id, event, started_at) VALUES (?, ?, ?)"
    await db.run(sql, tryout_id, event, stamp(now))


async def waiting(db: Snapshot, tryout: Tryout) -> list[Event]:
    """The surprises of the plan that have not been started."""
    done = await started(db, tryout.id)
    return [event for event in tryout.plan.events if event.surprise and event.key not in done]

"""What was not said or done, since when, and why."""

from datetime import datetime

from storage.records.base import Record
from storage.tables.sql_session import Snapshot, stamp


class Undelivered(Record):
    """Something that was due, or a message, that was skipped or failed."""

    what: str
    """The kind of what was due, or the address of a message."""
    message: bool
    why: str
    at: datetime


async def undelivered(db: Snapshot, tryout_id: int, since: datetime) -> list[Undelivered]:
    """Everything that was skipped or failed after an instant, oldest first."""
    return await db.all(
        Undelivered,
        "SELECT kind AS what, 0 AS message, why, handled_at AS at FROM scheduled_job "
        "WHERE tryout_id = ?1 AND state = 'skipped' AND handled_at > ?2 "
        "UNION ALL SELECT address, 1, why, settled_at FROM outbox_message "
        "WHERE tryout_id = ?1 AND state IN ('skipped', 'failed') AND settled_at > ?2 ORDER BY at",
        tryout_id,
        stamp(since),
    )

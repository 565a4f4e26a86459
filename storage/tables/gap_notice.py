"""What fell into a time in which the bot was away, and so came late."""

from datetime import datetime, timedelta

from storage.records.base import Record
from storage.tables.sql_session import Snapshot, stamp


class Late(Record):
    """Something that was due, or a message, whose time came while the bot was away."""

    what: str
    """The kind of what was due, or the address of a message."""
    message: bool
    at: datetime


async def came_late(db: Snapshot, tryout_id: int, since: datetime, until: datetime, punctual: timedelta) -> list[Late]:
    """What was due, or to be sent, from `since` to `until` and was not done, or later than `punctual`; oldest first."""
    return await db.all(
        Late,
        "SELECT kind AS what, 0 AS message, at FROM scheduled_job "
        "WHERE tryout_id = ?1 AND at > ?2 AND at <= ?3 "
        "AND (state = 'waiting' OR julianday(handled_at) > julianday(at) + ?4) "
        "UNION ALL SELECT address, 1, not_before FROM outbox_message "
        "WHERE tryout_id = ?1 AND not_before > ?2 AND not_before <= ?3 "
        "AND (state IN ('queued', 'claimed') OR julianday(settled_at) > julianday(not_before) + ?4) ORDER BY at",
        tryout_id,
        stamp(since),
        stamp(until),
        punctual / timedelta(days=1),
    )

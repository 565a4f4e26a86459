"""What the status file holds: how the running bot was at one moment."""

from datetime import datetime

from storage.records.base import Record


class Heartbeat(Record):
    """A sign of life; instants are in UTC, None where there is none."""

    at: datetime
    started_at: datetime
    version: str
    pid: int
    free_bytes: int
    """Room left on the disk of the database."""
    online_since: datetime | None = None
    away_since: datetime | None = None
    """Since when the platform cannot be reached; None while it is."""
    last_event_at: datetime | None = None
    """When the platform last sent anything."""
    next_due_at: datetime | None = None
    last_backup_at: datetime | None = None
    stopped: bool = False
    """Whether it was the last one before an orderly stop."""

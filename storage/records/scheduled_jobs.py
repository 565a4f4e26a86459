"""What is due when, and what became of it."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class ScheduledJob(Record):
    """Something that happens at an instant: a reminder, the brief, the close of sign-up."""

    id: int
    tryout_id: int
    kind: str
    key: str
    at: datetime
    stale_after: datetime | None = None
    """Later than this it is recorded as skipped instead of done."""
    state: Literal["waiting", "done", "skipped", "cancelled"] = "waiting"
    tries: int = 0
    not_before: datetime | None = None
    """After a fault: when it is tried again."""
    why: str = ""
    handled_at: datetime | None = None

"""What is to be said, where, and what became of it; and what is due when."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record
from storage.records.message import Message


class Letter(Record):
    """One row of the outbox: a message to a room, sent effectively once."""

    id: int
    tryout_id: int
    to: str
    """Whom it is for: an address such as `news`, `office`, `squad/5` or `judge/4`."""
    message: Message
    state: Literal["queued", "claimed", "sent", "skipped", "failed"] = "queued"
    nonce: str
    """Fixed at queuing; the platform refuses a second message under it for some minutes."""
    not_before: datetime
    stale_after: datetime | None = None
    """Later than this it is not sent but recorded as skipped."""
    tries: int = 0
    message_id: int | None = None
    why: str = ""
    queued_at: datetime
    settled_at: datetime | None = None


class Card(Record):
    """A living message: written once, then edited in place whenever what it shows has changed."""

    key: str
    """What it shows, such as `roster/1` or `judge/4`; unique within the try-out."""
    tryout_id: int
    to: str
    """Where it stands: an address, as for letters."""
    message_id: int | None = None
    pinned: bool = False
    """Whether it should be pinned in its room."""
    shown: str = ""
    """Digest of what it shows now."""
    stale: bool = True
    """Whether what it shows may have changed since."""
    edited_at: datetime | None = None
    failed: str = ""


class Due(Record):
    """Something that happens at an instant: a reminder, the brief, the close of sign-up."""

    id: int
    tryout_id: int
    kind: str
    key: str
    at: datetime
    stale_after: datetime | None = None
    """Later than this it is recorded as skipped instead of done."""
    state: Literal["waiting", "done", "skipped", "cancelled"] = "waiting"
    why: str = ""
    handled_at: datetime | None = None

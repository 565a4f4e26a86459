"""One message to a room on its way: what is said, where, and what became of it."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record
from storage.records.message import Message


class OutboxMessage(Record):
    """One row of the outbox: a message to a room, sent effectively once."""

    id: int
    tryout_id: int
    address: str
    """Whom it is for: an address such as `news`, `office`, `squad/5` or `judge/4`."""
    message: Message
    redacted: str | None = None
    """The same as JSON without a name that was erased while it was on its way; it takes the message's place after."""
    state: Literal["queued", "claimed", "sent", "skipped", "failed"] = "queued"
    nonce: str
    """Fixed at queuing; the platform refuses a second message under it for some minutes."""
    not_before: datetime
    stale_after: datetime | None = None
    """From this moment on it is not sent but recorded as skipped: what it says makes sense until then."""
    tries: int = 0
    room_id: int | None = None
    """Where it was posted, or may have been while it is `claimed`."""
    message_id: int | None = None
    claimed_at: datetime | None = None
    why: str = ""
    queued_at: datetime
    settled_at: datetime | None = None

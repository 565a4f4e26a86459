"""What is to be said, where, and what became of it; and what is due when."""

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


class LiveMessage(Record):
    """A live message: written once, then edited in place whenever what it shows has changed."""

    id: int
    key: str
    """What it shows, such as `roster/1` or `judge/4`; unique within the try-out."""
    tryout_id: int
    address: str
    """Where it should stand: an address, as for outbox messages."""
    room_id: int | None = None
    """Where it stands."""
    message_id: int | None = None
    pinned: bool = False
    """Whether it should be pinned in its room."""
    pin_open: bool = False
    """Whether that is still to be done."""
    shown: str = ""
    """Digest of what it shows now."""
    stale: int = 1
    """How many changes it does not show yet."""
    posts: int = 0
    """How often it was posted anew."""
    claimed_at: datetime | None = None
    """It is being posted since then; after a crash it is looked for before it is posted again."""
    claimed_text: str | None = None
    old_room_id: int | None = None
    old_message_id: int | None = None
    """The message it takes the place of, still to be deleted."""
    old_edits: int = 0
    """How often its message was edited since it was an hour old; the platform allows so many."""
    edited_at: datetime | None = None
    failed: str = ""


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


class Room(Record):
    """The private room of a squad, open or still to be opened."""

    tryout_id: int
    squad_id: int
    number: int
    name: str
    """The squad's name."""
    room_id: int | None
    room_name: str
    """What the room is called now."""
    room_outdated: bool
    """Whether that may not be its right name any more."""
    room_closed: bool
    withdrawn: bool
    seats_open: int
    """People who are still to be added or taken out."""


class Seat(Record):
    """Whether someone should be, and is, in a squad's private room."""

    squad_id: int
    platform_id: int
    wanted: bool
    present: bool
    failed: str = ""
    """Why it could not be done; it is not tried again until it is wished again."""

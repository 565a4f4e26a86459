"""A message that is kept up to date in place: where it stands and what it shows."""

from datetime import datetime

from storage.records.base import Record


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

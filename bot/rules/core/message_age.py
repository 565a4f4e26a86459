"""How old a message is, by its id, which the platform makes of the time; an old one should not be edited often."""

from datetime import UTC, datetime, timedelta

EPOCH_MS = 1_420_070_400_000
"""The platform's first moment, 2015-01-01, in milliseconds since 1970 (its public reference, "Snowflakes")."""
FREELY_EDITED = timedelta(hours=1)
"""Edits of messages older than this are counted by the platform, and refused beyond an unpublished number (30046)."""


def made_at(snowflake: int) -> datetime:
    """The instant at which the platform made an id, to the millisecond."""
    return datetime.fromtimestamp(((snowflake >> 22) + EPOCH_MS) / 1000, UTC)


def freely_edited(message_id: int, now: datetime) -> bool:
    """Whether a message is young enough to be edited as often as one likes."""
    return now - made_at(message_id) < FREELY_EDITED

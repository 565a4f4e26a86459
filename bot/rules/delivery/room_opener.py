"""Private rooms of squads and judges: beneath which channel, when they are archived, when a lost one is opened anew."""

from datetime import datetime, timedelta
from typing import Final

from storage.records.tryout import RoomKind

BENEATH: RoomKind = "squads"
"""The channel beneath which private rooms are opened, of squads and of judges who take no direct messages."""
ARCHIVED_AFTER_MINUTES: Final = 7 * 24 * 60
"""After so long without a message the platform archives a room; it takes an hour, or 1, 3 or 7 days."""
REOPEN_AGAIN = timedelta(hours=1)
"""A room that vanishes again within this time is not opened a third time."""


def is_opened_anew(reopened: datetime | None, now: datetime) -> bool:
    """Whether a room that is gone is opened anew; `reopened` is when that was done last."""
    return reopened is None or now - reopened >= REOPEN_AGAIN

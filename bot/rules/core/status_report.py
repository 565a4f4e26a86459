"""How the running bot is: when it is well, for how long it may be off line, and what is little room on the disk."""

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storage.records.status_file import Heartbeat

FRESH = timedelta(seconds=90)
"""Older than this a sign of life is none: it is renewed every few seconds."""
AWAY = timedelta(minutes=10)
"""So long the platform may be out of reach before `status` calls that a trouble."""
LITTLE_BYTES = 1_000_000_000
"""With less room on the disk than this there is little left."""


def is_well(beat: "Heartbeat | None", now: datetime) -> bool:
    """Whether the bot runs and has not been off line for long."""
    if beat is None or beat.stopped or now - beat.at > FRESH:
        return False
    return beat.online_since is not None and (beat.away_since is None or now - beat.away_since < AWAY)

"""How the running bot is: how often it says so, what counts as well, on line, away or asleep, and as little room."""

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storage.records.heartbeat import Heartbeat

FIRST_S = 2.0
"""So long the first sign of life waits for the platform, which is reached sooner without it."""
BEAT_S = 15.0
"""How often the bot says how it is."""
STORE_S = 10.0
"""How long the database may take to answer before the bot no longer calls itself alive."""
FRESH = timedelta(seconds=90)
"""Older than this a sign of life is none: it is renewed every few seconds."""
SHORT = timedelta(minutes=1)
"""An interruption after which it has been on line all the time: the platform asks to reconnect now and then."""
SLEPT = timedelta(minutes=2)
"""When a sign of life comes so much too late, the machine was asleep."""
AWAY = timedelta(minutes=10)
"""So long the platform may be out of reach before `status` calls that a trouble."""
LITTLE_BYTES = 1_000_000_000
"""With less room on the disk than this there is little left."""


def is_well(beat: "Heartbeat | None", now: datetime) -> bool:
    """Whether the bot runs and has not been off line for long."""
    if beat is None or beat.stopped or now - beat.at > FRESH:
        return False
    return beat.online_since is not None and (beat.away_since is None or now - beat.away_since < AWAY)

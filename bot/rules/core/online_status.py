"""Whether the running bot is well."""

from datetime import datetime

from bot.rules.core.online_status_limits import AWAY, FRESH
from storage.records.heartbeat import Heartbeat


def is_well(beat: Heartbeat | None, now: datetime) -> bool:
    """Whether the bot runs and has not been off line for long."""
    if beat is None or beat.stopped or now - beat.at > FRESH:
        return False
    return beat.online_since is not None and (beat.away_since is None or now - beat.away_since < AWAY)

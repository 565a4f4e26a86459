"""When the running bot is well: how often it says so, what counts as on line, away or asleep, and as little room."""

from datetime import timedelta

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

"""Being on line: how often the bot says how it is, which interruption counts, and when the machine was asleep."""

from datetime import timedelta

FIRST_S = 2.0
"""So long the first sign of life waits for the platform, which is reached sooner without it."""
BEAT_S = 15.0
"""How often the bot says how it is."""
STORE_S = 10.0
"""How long the database may take to answer before the bot no longer calls itself alive."""
SHORT = timedelta(minutes=1)
"""An interruption after which it has been on line all the time: the platform asks to reconnect now and then."""
SLEPT = timedelta(minutes=2)
"""When a sign of life comes so much too late, the machine was asleep."""

"""Private rooms of squads and judges: when the platform archives one, when a lost one is opened anew, whom we name."""

from datetime import timedelta
from typing import Final

ARCHIVED_AFTER_MINUTES: Final = 7 * 24 * 60
"""After so long without a message the platform archives a room; it takes an hour, or 1, 3 or 7 days."""
REOPEN_AGAIN = timedelta(hours=1)
"""A room that vanishes again within this time is not opened a third time."""
MOST_NAMED = 25
"""More people than this who cannot be let into a room are counted and not named."""

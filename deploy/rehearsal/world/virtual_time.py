"""Virtual time, and the identifiers that carry it."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import lru_cache

PLATFORM_EPOCH_MS = 1_420_070_400_000
"""The first moment of the platform's identifiers, in Unix milliseconds: the start of 2015, UTC."""


class Timeline:
    """The one clock of the class server: it stands still until somebody moves it."""

    def __init__(self, start: datetime) -> None:
        """Begin at `start`, which must carry a time zone."""
        if start.tzinfo is None:
            raise ValueError("the start of a timeline needs a time zone")
        self._now = start.astimezone(UTC)

    @property
    def now(self) -> datetime:
        """The present virtual moment, in UTC."""
        return self._now

    def move_to(self, moment: datetime) -> None:
        """Jump forward to `moment`; a moment already passed leaves the clock where it is."""
        self._now = max(self._now, moment.astimezone(UTC))


class Snowflakes:
    """Identifiers whose top 42 bits are the virtual time in milliseconds, with a counter below.

    The same actions in the same order give the same identifiers, which is what makes a season repeatable.
    """

    def __init__(self, timeline: Timeline) -> None:
        self._timeline = timeline
        self._used: dict[int, int] = {}

    def next(self, at: datetime | None = None) -> int:
        """Return a fresh identifier for the present, or for the moment `at`."""
        moment = at or self._timeline.now
        milliseconds = int(moment.timestamp() * 1000) - PLATFORM_EPOCH_MS
        count = self._used.get(milliseconds, 0)
        self._used[milliseconds] = count + 1
        return (milliseconds << 22) | count


@lru_cache(maxsize=1000)
def wire(moment: datetime) -> str:
    """Write a moment as the platform does: ISO 8601, microseconds, explicit offset."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds")

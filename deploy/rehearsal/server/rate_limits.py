"""Rate limits: one bucket per route and main resource, with the platform's headers."""

from __future__ import annotations

import hashlib
import math
import time
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import cache

from deploy.rehearsal.world.virtual_time import Timeline

WIRE_VIA = "1.1 loopback"
"""Clients take a 429 without a `Via` header for a block of the whole address, so each of ours carries one."""
PLATFORM_WINDOW = timedelta(seconds=5)
"""Virtual time after which a bucket is fresh again, as on the platform; while time stands still, `Pace` counts."""
_NEVER = datetime.min.replace(tzinfo=UTC)


@dataclass(frozen=True)
class Pace:
    """How many requests a bucket takes in how many real seconds, as long as virtual time stands still."""

    requests: int
    window_s: float


@dataclass(frozen=True)
class Paces:
    """The sizes of all buckets; small real windows keep a season of ten days within a minute."""

    default: Pace = Pace(50, 0.05)
    everything: Pace = Pace(250, 0.05)
    by_route: dict[str, Pace] = field(
        default_factory=lambda: {
            "POST /channels/{channel_id}/messages": Pace(5, 0.05),
            "PATCH /channels/{channel_id}/messages/{message_id}": Pace(5, 0.05),
            "POST /users/@me/channels": Pace(10, 0.05),
            "POST /channels/{channel_id}/threads": Pace(10, 0.05),
        }
    )


@dataclass
class _Bucket:
    pace: Pace
    name: str
    timeline: Timeline
    opened: float = -math.inf
    opened_at: datetime = _NEVER
    used: int = 0

    def take(self, now: float) -> bool:
        """Use one token; false if the window is used up."""
        moment = self.timeline.now
        if now - self.opened >= self.pace.window_s or moment - self.opened_at >= PLATFORM_WINDOW:
            self.opened, self.opened_at, self.used = now, moment, 0
        if self.used >= self.pace.requests:
            return False
        self.used += 1
        return True

    def reset_after(self, now: float) -> float:
        return max(0.0, self.opened + self.pace.window_s - now)


class Limited(Exception):
    """The request came too fast: answer 429."""

    def __init__(self, retry_after: float, scope: str, headers: dict[str, str]) -> None:
        self.retry_after = retry_after
        self.is_global = scope == "global"
        self.headers = headers | {
            "Via": WIRE_VIA,
            "Retry-After": str(math.ceil(retry_after)),
            "X-RateLimit-Scope": scope,
        }
        if self.is_global:
            self.headers["X-RateLimit-Global"] = "true"
        super().__init__(f"429 {scope}, retry after {retry_after:.3f} s")

    def body(self) -> dict[str, object]:
        """Return the JSON body of the 429."""
        return {
            "message": "You are being rate limited.",
            "retry_after": round(self.retry_after, 3),
            "global": self.is_global,
            "code": 0,
        }


class Buckets:
    """All buckets of the server."""

    def __init__(self, timeline: Timeline, paces: Paces | None = None) -> None:
        self._timeline = timeline
        self._paces = paces or Paces()
        self._buckets: dict[tuple[str, str], _Bucket] = {}
        self._everything = _Bucket(self._paces.everything, "global", timeline)
        self.refused = 0

    def take(self, route: str, resource: str, *, interaction: bool) -> dict[str, str]:
        """Count one request and return the headers that tell the client where it stands; raises `Limited`.

        `resource` is the channel, guild or webhook the bucket is split by; interaction routes are outside the global
        one.
        """
        now = time.monotonic()
        if not interaction and not self._everything.take(now):
            self.refused += 1
            raise Limited(self._everything.reset_after(now), "global", {})
        bucket = self._bucket(route, resource)
        fits = bucket.take(now)
        reset_after = bucket.reset_after(now)
        headers = {
            "X-RateLimit-Limit": str(bucket.pace.requests),
            "X-RateLimit-Remaining": str(bucket.pace.requests - bucket.used),
            "X-RateLimit-Reset": f"{time.time() + reset_after:.3f}",
            "X-RateLimit-Reset-After": f"{reset_after:.3f}",
            "X-RateLimit-Bucket": bucket.name,
        }
        if not fits:
            self.refused += 1
            raise Limited(reset_after, "user", headers)
        return headers

    def _bucket(self, route: str, resource: str) -> _Bucket:
        bucket = self._buckets.get((route, resource))
        if bucket is None:
            pace = self._paces.by_route.get(route, self._paces.default)
            bucket = self._buckets[(route, resource)] = _Bucket(pace, _name(route), self._timeline)
        return bucket


@cache
def _name(route: str) -> str:
    return hashlib.sha256(route.encode()).hexdigest()[:32]

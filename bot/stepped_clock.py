"""A clock that stands still until a server on this machine moves it on, for rehearsals; else not imported."""

import asyncio
import hashlib
import json
import logging
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta, tzinfo
from typing import Self
from urllib.parse import urlsplit

import aiohttp

from bot.actions.core.fault_log import log_fault
from bot.clock import Nightly, Quiet, guarded
from bot.loopback import is_loopback

log = logging.getLogger(__name__)


@dataclass
class _Night:
    """What is run every night."""

    at: time
    zone: tzinfo
    callback: Nightly
    next: datetime


class SteppedClock:
    """A clock that stands still until a server on this machine moves it on; an async context manager.

    The server sends `{"step": 17, "now": "2026-03-02T15:30:00+00:00"}` when we connect and at each step. Once
    everything due by then is done we answer `{"settled": 17, "next": …}`: the earliest instant at which we wish to be
    woken, or null. Moments that pass before that have no number and no answer.
    """

    TRIES = 40
    """How often a lost connection is tried again, over about ten seconds."""
    REFUSALS = 6
    """So often in a row nobody listens at the address any more: the server's process has ended."""

    def __init__(self, url: str) -> None:
        """Name the server's address.

        Raises:
            ValueError: it is not a plain WebSocket address on this machine.
        """
        check_loopback(url)
        self._url = url
        self._now: datetime | None = None
        self._begun = asyncio.Event()
        self._lost = asyncio.Event()
        self._quiet: asyncio.Future[Quiet] | None = None
        self._wish: datetime | None = None
        self._nightly: list[_Night] = []
        self._callbacks: list[Callable[[], None]] = []
        self._task: asyncio.Task[None] | None = None

    async def __aenter__(self) -> Self:
        self._quiet = asyncio.get_running_loop().create_future()
        self._task = asyncio.create_task(self._run(), name="stepped clock")
        return self

    async def __aexit__(self, *_: object) -> None:
        assert self._task is not None
        self._task.cancel()
        await asyncio.wait([self._task])

    async def started(self) -> None:
        """Wait until the server has told the time.

        Raises:
            ConnectionError: there is no such server.
        """
        waiting = [asyncio.create_task(event.wait()) for event in (self._begun, self._lost)]
        await asyncio.wait(waiting, return_when=asyncio.FIRST_COMPLETED)
        for task in waiting:
            task.cancel()
        if not self._begun.is_set():
            raise ConnectionError(f"no clock answers at {self._url}")

    async def lost(self) -> None:
        """Wait until the server is gone for good: time will not move any more."""
        await self._lost.wait()

    def settle_with(self, quiet: Quiet) -> None:
        """Answer a step only when this has returned: everything due is done and nothing is on its way."""
        assert self._quiet is not None and not self._quiet.done()
        self._quiet.set_result(quiet)

    def now(self) -> datetime:
        """The instant the server told last, in UTC.

        Raises:
            RuntimeError: it has not told any yet.
        """
        if self._now is None:
            raise RuntimeError("the clock has not started")
        return self._now

    def wake_at(self, at: datetime | None) -> None:
        """Wish to be woken at an instant; replaces the earlier wish, None withdraws it."""
        self._wish = at

    def on_wake(self, callback: Callable[[], None]) -> None:
        """Call this when the wished instant has come."""
        self._callbacks.append(callback)

    def every_night(self, at: time, callback: Nightly, zone: tzinfo = UTC) -> None:
        """Run this every day at a time of day in a zone."""
        self._nightly.append(_Night(at, zone, guarded(callback), _next_at(at, zone, self.now())))

    def later(self, seconds: float, call: Callable[[], None]) -> Callable[[], None]:
        """Never calls it: time does not move before everybody has been answered."""
        return lambda: None

    def random_bytes(self, count: int) -> bytes:
        """So many bytes that the time alone decides: a season is the same each time, and its people are made up."""
        return hashlib.shake_256(self.now().isoformat().encode()).digest(count)

    def own_zone(self) -> tzinfo:
        """UTC: what happens at night must not depend on the machine."""
        return UTC

    async def _run(self) -> None:
        failures = refused = 0
        try:
            async with aiohttp.ClientSession() as session:
                while failures < self.TRIES and refused < self.REFUSALS:
                    try:
                        async with session.ws_connect(self._url, heartbeat=None) as socket:
                            async for step, now in _steps(socket):
                                failures = refused = 0
                                if step is None:
                                    self._now = now
                                    continue
                                await self._step(now)
                                upcoming = self._next()
                                wish = None if upcoming is None else upcoming.isoformat(timespec="microseconds")
                                await socket.send_str(json.dumps({"settled": step, "next": wish}))
                    except (aiohttp.ClientError, OSError, TimeoutError) as error:
                        log.debug("no connection to the clock: %s", type(error).__name__)
                        gone = isinstance(getattr(error, "os_error", error), ConnectionRefusedError)
                        refused = refused + 1 if gone else 0
                    failures += 1
                    await asyncio.sleep(0.25 if failures > 4 else 0.05)
        except Exception as error:  # noqa: BLE001 - whoever waits for the clock learns that it is gone
            log_fault(log, "following the stepped clock", error)
        finally:
            self._lost.set()

    async def _step(self, now: datetime) -> None:
        self._now = now
        self._begun.set()
        assert self._quiet is not None
        quiet = await asyncio.shield(self._quiet)
        for night in self._nightly:
            if night.next <= now:
                night.next = _next_at(night.at, night.zone, now)
                await night.callback()
        if self._wish is not None and self._wish <= now:
            self._wish = None
            for wake in self._callbacks:
                wake()
        await quiet()

    def _next(self) -> datetime | None:
        wishes = [night.next for night in self._nightly]
        if self._wish is not None:
            wishes.append(self._wish)
        return min(wishes, default=None)


async def _steps(socket: aiohttp.ClientWebSocketResponse) -> AsyncIterator[tuple[int | None, datetime]]:
    async for frame in socket:
        if frame.type is aiohttp.WSMsgType.TEXT:
            told = json.loads(frame.data)
            yield told.get("step"), datetime.fromisoformat(told["now"]).astimezone(UTC)


def _next_at(at: time, zone: tzinfo, after: datetime) -> datetime:
    """The first instant later than `after` at which a clock in the zone shows `at`."""
    local = after.astimezone(zone)
    for days in range(3):
        found = datetime.combine(local.date() + timedelta(days=days), at, zone).astimezone(UTC)
        if found > after:
            return found
    raise ValueError(f"no {at} in the zone {zone}")


def check_loopback(url: str) -> None:
    """Refuse an address that is not a plain WebSocket on this machine.

    Raises:
        ValueError: it lies elsewhere, or speaks something else.
    """
    if urlsplit(url).scheme != "ws" or not is_loopback(url):
        raise ValueError(f"the clock must be on this machine, such as ws://127.0.0.1:8080/clock, not {url}")


@asynccontextmanager
async def open_stepped_clock(url: str) -> AsyncIterator[SteppedClock]:
    """The clock at an address, once it has told the time.

    Raises:
        ValueError: the address is not on this machine.
        ConnectionError: no clock answers there.
    """
    async with SteppedClock(url) as clock:
        await clock.started()
        yield clock

"""The time, and being woken at one instant, by the machine's clock.

A clock remembers nothing: what is due when stands in the database, and the clock is only told the earliest of it.
"""

import asyncio
import logging
import secrets
import sys
from collections.abc import Awaitable, Callable
from datetime import UTC, datetime, time, timedelta, tzinfo
from functools import cached_property
from typing import TYPE_CHECKING, Protocol, Self
from zoneinfo import ZoneInfoNotFoundError

from bot.actions.core.fault_log import log_fault

if TYPE_CHECKING:
    from apscheduler.schedulers.asyncio import AsyncIOScheduler

log = logging.getLogger(__name__)

Nightly = Callable[[], Awaitable[None]]
Quiet = Callable[[], Awaitable[None]]
Later = Callable[[float, Callable[[], None]], Callable[[], None]]
"""Calls something once so many seconds have passed; returns what withdraws that."""


def by_the_loop(seconds: float, call: Callable[[], None]) -> Callable[[], None]:
    """Call something once so many seconds have passed by the event loop; returns what withdraws that."""
    return asyncio.get_running_loop().call_later(seconds, call).cancel


class Clock(Protocol):
    """What most of the program knows of time."""

    def now(self) -> datetime:
        """The present instant, in UTC."""

    def wake_at(self, at: datetime | None) -> None:
        """Wish to be woken at an instant; replaces the earlier wish, None withdraws it."""

    def on_wake(self, callback: Callable[[], None]) -> None:
        """Call this when the wished instant has come."""


class MainClock(Clock, Protocol):
    """What the program as a whole needs of its clock besides."""

    def every_night(self, at: time, callback: Nightly, zone: tzinfo = UTC) -> None:
        """Run this every day at a time of day in a zone."""

    def own_zone(self) -> tzinfo:
        """The zone of what happens at night for the machine's sake."""

    def settle_with(self, quiet: Quiet) -> None:
        """Where the clock waits for us: what to wait for before time moves on."""

    def later(self, seconds: float, call: Callable[[], None]) -> Callable[[], None]:
        """Call something once so many seconds have passed; returns what withdraws that.

        Where the clock stands still while somebody waits for us, they never do.
        """

    def random_bytes(self, count: int) -> bytes:
        """So many bytes for a key. The machine's clock has no part in them; in a season they hang on the time alone."""

    async def lost(self) -> None:
        """Wait until time will not move any more, if that can happen."""


class LiveClock:
    """The machine's own clock; an async context manager. Several wake-ups missed are one."""

    LONGEST_SLEEP = timedelta(minutes=1)
    """Never longer, so that a laptop that slept or a clock that was set late costs a minute at most."""

    def __init__(self) -> None:
        self._wish: datetime | None = None
        self._callbacks: list[Callable[[], None]] = []

    async def __aenter__(self) -> Self:
        return self

    async def __aexit__(self, *_: object) -> None:
        if "_scheduler" in vars(self):
            self._scheduler.shutdown(wait=False)

    @cached_property
    def _scheduler(self) -> "AsyncIOScheduler":
        """Slow to import: there from the first wish on, once we are on line; the rehearsed season does without."""
        from apscheduler.schedulers.asyncio import AsyncIOScheduler

        # It would note every wish in the log.
        logging.getLogger("apscheduler").setLevel(logging.WARNING)
        scheduler = AsyncIOScheduler(
            timezone=UTC, job_defaults={"misfire_grace_time": None, "coalesce": True, "max_instances": 1}
        )
        scheduler.start()
        return scheduler

    def now(self) -> datetime:
        """The present instant, in UTC."""
        return datetime.now(UTC)

    def wake_at(self, at: datetime | None) -> None:
        """Wish to be woken at an instant; replaces the earlier wish, None withdraws it."""
        if at == self._wish:
            return
        self._wish = at
        self._set()

    def on_wake(self, callback: Callable[[], None]) -> None:
        """Call this when the wished instant has come."""
        self._callbacks.append(callback)

    def every_night(self, at: time, callback: Nightly, zone: tzinfo = UTC) -> None:
        """Run this every day at a time of day in a zone."""
        self._scheduler.add_job(guarded(callback), "cron", hour=at.hour, minute=at.minute, timezone=zone)

    def own_zone(self) -> tzinfo:
        """The zone that the machine is set to, through its changes of the clock.

        Where it names none that can be found, only the offset of now is known, and holds until the next start.
        """
        from tzlocal import reload_localzone

        try:
            return reload_localzone()
        except (ZoneInfoNotFoundError, ValueError, OSError) as error:
            log.warning("the machine's time zone cannot be read (%s): its offset of now is taken", type(error).__name__)
            return datetime.now().astimezone().tzinfo or UTC

    def settle_with(self, quiet: Quiet) -> None:
        """The machine's clock waits for nobody."""

    def later(self, seconds: float, call: Callable[[], None]) -> Callable[[], None]:
        """Call something once so many seconds have passed; returns what withdraws that."""
        return by_the_loop(seconds, call)

    def random_bytes(self, count: int) -> bytes:
        """So many bytes that nobody can guess."""
        return secrets.token_bytes(count)

    async def lost(self) -> None:
        """Never returns: this clock is always there."""
        await asyncio.get_running_loop().create_future()

    def _set(self) -> None:
        if self._wish is None:
            if self._scheduler.get_job("wake") is not None:
                self._scheduler.remove_job("wake")
            return
        at = min(self._wish, self.now() + self.LONGEST_SLEEP)
        # The scheduler counts a ring as running until some turns after it is over, and drops what is too many.
        self._scheduler.add_job(
            self._ring, "date", run_date=at, id="wake", replace_existing=True, max_instances=sys.maxsize
        )

    async def _ring(self) -> None:
        if self._wish is not None and self.now() < self._wish:
            self._set()
            return
        self._wish = None
        for callback in self._callbacks:
            callback()


def guarded(callback: Nightly) -> Nightly:
    """A nightly job whose fault is logged and stops nothing."""

    async def run() -> None:
        try:
            await callback()
        except Exception as error:  # noqa: BLE001 - it is tried again tomorrow
            log_fault(log, "doing a nightly job", error)

    return run

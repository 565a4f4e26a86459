"""Since when we are on line: a heartbeat beside the database, word to the service manager, and gaps while away.

The heartbeat is a record, and records come with a large library: it is imported when the first of them is due, which
is when we are on line, or cannot come on line at once.
"""

import asyncio
import logging
import os
import shutil
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from bot.actions.core.fault_log import log_fault
from bot.actions.core.status_report import told_by
from bot.clock import Clock
from bot.program_version import program_version
from bot.rules.delivery.gap_and_backup_notices import SHORTEST_GAP
from bot.systemd_notify import notify
from storage.file_errors import StorageFault
from storage.store import Store

if TYPE_CHECKING:
    from bot.words.delivery.gap_and_backup_notices import Why
    from storage.records.status_file import Heartbeat

log = logging.getLogger(__name__)

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


class OnlineStatus:
    """Knows since when we are on line, and what we missed while we were not."""

    def __init__(self, database: Path, clock: Clock, *, gaps: bool = True) -> None:
        """With `gaps` false no gap is ever found: where time is made up, it says nothing about the machine."""
        self._database = database
        self._clock = clock
        self._gaps = gaps
        self._started = self._beaten = clock.now()
        self._online: datetime | None = None
        self._away: datetime | None = None
        self._event: datetime | None = None
        self._missed: list[tuple[datetime, datetime, Why]] = []
        self._news = asyncio.Event()
        self.last_backup_at: datetime | None = None
        self.next_due: Callable[[], datetime | None] = lambda: None
        self._version = program_version() or "unknown"
        self._looked_back = False
        self._last_seen: datetime | None = None
        told_by(self.state)

    def came_on_line(self) -> None:
        """The platform has us."""
        now = self._clock.now()
        self._look_back()
        if self._last_seen is not None:
            self._miss(self._last_seen, now, "stopped")
            self._last_seen = None
        if self._away is not None:
            self._miss(self._away, now, "network")
        if self._online is None or (self._away is not None and now - self._away > SHORT):
            self._online = now
        self._away, self._event = None, now
        self._news.set()

    def _look_back(self) -> None:
        """Read, once, when we were last seen before this start."""
        if self._looked_back:
            return
        from storage.status_file import read_heartbeat

        self._looked_back = True
        before = read_heartbeat(self._database)
        self._last_seen = None if before is None else (before.away_since or before.at)

    def went_off_line(self) -> None:
        """The platform has lost us, or we it."""
        if self._online is not None and self._away is None:
            self._away = self._clock.now()

    def heard(self) -> None:
        """The platform sent something."""
        self._event = self._clock.now()

    def state(self) -> "Heartbeat":
        """How we are now."""
        from storage.records.status_file import Heartbeat

        try:
            free = shutil.disk_usage(self._database.absolute().parent).free
        except OSError:
            free = 0
        return Heartbeat(
            at=self._clock.now(),
            started_at=self._started,
            version=self._version,
            pid=os.getpid(),
            free_bytes=free,
            online_since=self._online,
            away_since=self._away,
            last_event_at=self._event,
            next_due_at=self.next_due(),
            last_backup_at=self.last_backup_at,
        )

    async def beat(self, store: Store) -> None:
        """Say how we are, again and again, until cancelled."""
        notify("READY=1")
        with suppress(TimeoutError):
            async with asyncio.timeout(FIRST_S):
                await self._news.wait()
        self._look_back()
        while True:
            now = self._clock.now()
            if now - self._beaten > SLEPT + timedelta(seconds=BEAT_S):
                self._miss(self._beaten, now, "asleep")
            self._beaten = now
            await asyncio.to_thread(self._write, self.state())
            if self._away is None:
                await self.tell_missed(store)
            if await _answers(store):
                notify("WATCHDOG=1")
            self._news.clear()
            with suppress(TimeoutError):
                async with asyncio.timeout(BEAT_S):
                    await self._news.wait()

    def stop(self) -> None:
        """Leave word that we were stopped in good order."""
        self._write(self.state().model_copy(update={"stopped": True}))

    def _write(self, beat: "Heartbeat") -> None:
        from storage.status_file import write_heartbeat

        try:
            write_heartbeat(self._database, beat)
        except OSError as error:
            log.warning("cannot write the status file: %s", type(error).__name__)

    async def tell_missed(self, store: Store) -> None:
        """Tell the coaches what came late in the gaps that are over; what cannot be told now is told later."""
        if not self._missed:
            return
        # Late: it brings most of the words with it, and is hardly ever needed.
        from bot.actions.delivery import gap_and_backup_notices

        while self._missed:
            try:
                await gap_and_backup_notices.tell_gap(store, *self._missed[0])
            except StorageFault as fault:
                log.warning("cannot say what came late: %s", type(fault).__name__)
                return
            except Exception as error:  # noqa: BLE001 - the heart must go on beating
                log_fault(log, "saying what came late", error)
            self._missed.pop(0)

    def _miss(self, since: datetime, until: datetime, why: "Why") -> None:
        if self._gaps and until - since >= SHORTEST_GAP:
            self._missed.append((since, until, why))


async def _answers(store: Store) -> bool:
    """Whether the database answers, be it with a fault."""
    try:
        async with asyncio.timeout(STORE_S):
            async with store.read() as snapshot:
                await snapshot.value("SELECT 1")
    except StorageFault:
        return True
    except TimeoutError:
        log.error("the database has not answered for %d seconds", STORE_S)
        return False
    return True

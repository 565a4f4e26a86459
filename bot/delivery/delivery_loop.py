"""Delivery as a whole: everything outbound and everything on time, as one thing that starts, works and stops."""

import asyncio
import logging
from contextlib import suppress
from datetime import datetime
from typing import Self

import discord

from bot.actions.core.fault_log import log_fault
from bot.actions.delivery.pending_work import PendingWork, find_pending_work
from bot.clock import Clock
from bot.delivery.delivery_worker import DeliveryWorker, Wait, at_once
from bot.delivery.job_runner import JobRunner
from bot.rules.delivery.backoff import backoff_delay
from bot.rules.delivery.sending_limits import ADDRESSES_AT_ONCE, FINISH_SENDING_S, LOOKS_APART_S
from storage.file_errors import StorageFault
from storage.store import Store
from storage.tables import scheduled_jobs
from storage.tables.sql_session import Snapshot

log = logging.getLogger(__name__)


class DeliveryLoop:
    """Rings the job runner and sends the delivery worker whenever something was committed or its time has come.

    An async context manager; the chat client must be logged in.
    """

    def __init__(
        self,
        client: discord.Client,
        store: Store,
        clock: Clock,
        lanes: int = ADDRESSES_AT_ONCE,
        waiting: tuple[Wait, Wait] = (at_once, at_once),
    ) -> None:
        """`lanes` is how many addresses are served at a time; with 1 the order of everything sent is fixed.

        Whoever pressed a button waits, a message does not: `waiting` is what is waited for before anything is looked
        for, and before anything is sent. In between, while the platform takes the answers, messages are composed.
        """
        self._store = store
        self._clock = clock
        self._answers_out, answers_first = waiting
        self._jobs = JobRunner(store)
        self._worker = DeliveryWorker(client, store, clock, self.wake, lanes, answers_first)
        self._woken = asyncio.Event()
        self._still = asyncio.Event()
        self._hurry = asyncio.Event()
        self._failures = 0
        self._next: datetime | None = None
        self._task: asyncio.Task[None] | None = None

    async def __aenter__(self) -> Self:
        self._clock.on_wake(self.wake)
        self._task = asyncio.create_task(self._run(), name="delivery")
        self.wake()
        return self

    async def __aexit__(self, *_: object) -> None:
        await self.stop()

    def wake(self) -> None:
        """Something may have to be done: call it after every commit."""
        self._still.clear()
        self._woken.set()

    async def quiet(self) -> None:
        """Wait until everything due by now is handled and everything that can be sent now is sent."""
        if self._still.is_set() and (self._next is None or self._next > self._clock.now()):
            # Nothing was committed since the last look, and nothing has become due.
            return
        self.wake()
        self._hurry.set()
        await self._still.wait()

    def next_wake(self) -> datetime | None:
        """The earliest instant at which there will be something to do."""
        return self._next

    async def stop(self) -> None:
        """Stop within three seconds: what is being sent is finished, everything else stays in the outbox."""
        if self._task is None:
            return
        self._task.cancel()
        await asyncio.wait([self._task])
        self._task = None
        await self._worker.stop(FINISH_SENDING_S)
        self._clock.wake_at(None)
        self._still.set()

    async def _run(self) -> None:
        while True:
            await self._woken.wait()
            await self._answers_out()
            self._woken.clear()
            try:
                self._next = await self._turn(self._clock.now())
                self._failures = 0
            except Exception as error:  # noqa: BLE001 - delivery never stops
                self._failures += 1
                if isinstance(error, StorageFault):
                    log.error("the database cannot be used: %s", error)
                else:
                    log_fault(log, "looking through the outbox", error)
                self._next = self._clock.now() + backoff_delay(self._failures)
            self._clock.wake_at(self._next)
            if self._worker.idle.is_set() and not self._woken.is_set():
                self._hurry.clear()
                self._still.set()
            if self._worker.idle.is_set():
                continue
            with suppress(TimeoutError):
                async with asyncio.timeout(LOOKS_APART_S):
                    await self._hurry.wait()
                    # One look when all of it is over finds the rest.
                    await self._worker.idle.wait()

    async def _turn(self, now: datetime) -> datetime | None:
        looks = self._worker.about_to_look()
        ringing, found = await self._store.look(lambda db: _look(db, now))
        if self._jobs.must_ring(ringing, now):
            ringing = await self._jobs.ring(now)
            looks = self._worker.about_to_look()
            _, found = await self._store.look(lambda db: _look(db, now))
        wishes = [ringing, self._worker.begin(found, looks, now)]
        return min((wish for wish in wishes if wish is not None), default=None)


async def _look(db: Snapshot, now: datetime) -> tuple[datetime | None, PendingWork]:
    """When something is due next, and what can be delivered now."""
    return await scheduled_jobs.next_job_at(db), await find_pending_work(db, now)

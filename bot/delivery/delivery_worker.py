"""The delivery worker: serves every address that has work, in order at each address, several addresses at a time."""

import asyncio
import logging
from collections import defaultdict
from collections.abc import Awaitable, Callable
from datetime import datetime, timedelta
from functools import partial

import discord

from bot.actions.core.fault_log import log_fault
from bot.actions.delivery import direct_messages, lost_rooms, outbox_outcome
from bot.actions.delivery.destination import Destination, destination_of
from bot.actions.delivery.lane_work import LaneWork, composed_at, work_at
from bot.actions.delivery.pending_work import Lane, PendingWork
from bot.clock import Clock
from bot.delivery.error_classification import classify
from bot.delivery.live_message_publisher import LiveMessagePublisher
from bot.delivery.outbox_sender import OutboxSender
from bot.delivery.room_closer import RoomCloser
from bot.delivery.room_opener import RoomOpener
from bot.delivery.room_renamer import RoomRenamer
from bot.delivery.squad_room_members import SquadRoomMembers
from bot.rules.delivery.backoff import LONGEST, backoff_delay
from bot.words.delivery import undelivered as words
from storage.records.outbox import OutboxMessage
from storage.store import Store
from storage.tables import live_messages
from storage.tables.sql_session import Transaction

log = logging.getLogger(__name__)


Wait = Callable[[], Awaitable[None]]
"""Waits until something can go on."""


async def at_once() -> None:
    """Nothing is waited for."""


class DeliveryWorker:
    """Delivers what the outbox, the live messages and the private rooms ask for."""

    def __init__(
        self,
        client: discord.Client,
        store: Store,
        clock: Clock,
        wake: Callable[[], None],
        lanes: int,
        answers_first: Wait = at_once,
    ) -> None:
        self._client = client
        self._store = store
        self._clock = clock
        self._wake = wake
        self._answers_first = answers_first
        self._commits = 0
        store.on_commit(self._committed)
        self._opener = RoomOpener(client, store)
        self._sender = OutboxSender(client, store, clock, self._opener)
        self._publisher = LiveMessagePublisher(client, store, clock, self._opener)
        self._members = SquadRoomMembers(client, store, clock, self._opener)
        self._closer = RoomCloser(client, store, self._opener)
        self._renamer = RoomRenamer(store, self._opener)
        self._free = asyncio.Semaphore(lanes)
        self._rooms: defaultdict[int, asyncio.Lock] = defaultdict(asyncio.Lock)
        self._running: dict[Lane, asyncio.Task[None]] = {}
        self.idle = asyncio.Event()
        """Nothing is on its way."""
        self.idle.set()
        self._done: dict[Lane, str] = {}
        self._failures: defaultdict[Lane, int] = defaultdict(int)
        self._resting: dict[Lane, datetime] = {}
        self._troubled: set[Lane] = set()
        """Lanes that rest until the coach has mended something, or for long."""
        self._stopping = False

    def about_to_look(self) -> tuple[set[Lane], set[Lane]]:
        """Who is under way, and which lanes are in trouble, before somebody looks for work."""
        return set(self._running), set(self._troubled)

    def begin(self, found: PendingWork, before: tuple[set[Lane], set[Lane]], now: datetime) -> datetime | None:
        """Set out with everything that can be delivered now; returns when there may be more.

        `before` is what `about_to_look` said. Whoever came back since wakes us again; what was seen of their work may
        be out of date.
        """
        under_way, troubled = before
        mended = troubled - found.troubled
        self._troubled -= mended
        self._resting = {lane: until for lane, until in self._resting.items() if until > now and lane not in mended}
        # A lane that was done with and has new work starts afresh, even if the work looks the same.
        self._done = {lane: facts for lane, facts in self._done.items() if lane in found.ready}
        for lane, facts in found.ready.items():
            if self._stopping or lane in under_way or lane in self._resting:
                continue
            if self._done.get(lane) == facts:
                self._failures[lane] += 1
                log.warning("nothing came of the work for %s", lane[1])
                self._rest(lane, backoff_delay(self._failures[lane]))
                continue
            self._done[lane] = facts
            self.idle.clear()
            self._running[lane] = task = asyncio.create_task(self._run(lane), name=f"deliver to {lane[1]}")
            task.add_done_callback(partial(self._finished, lane))
        return min([*self._resting.values(), *([found.wake] if found.wake else [])], default=None)

    async def stop(self, within: float) -> None:
        """Finish what is on its way, and give up what takes longer than so many seconds."""
        self._stopping = True
        if not self._running:
            return
        _, late = await asyncio.wait(self._running.values(), timeout=within)
        for task in late:
            task.cancel()
        if late:
            await asyncio.wait(late)

    def _finished(self, lane: Lane, _: asyncio.Task[None]) -> None:
        del self._running[lane]
        if not self._running:
            self.idle.set()
        self._wake()

    def _rest(self, lane: Lane, pause: timedelta) -> None:
        self._resting[lane] = self._clock.now() + pause
        self._done.pop(lane, None)

    async def _run(self, lane: Lane) -> None:
        async with self._free:
            try:
                await self._go_through(lane)
                self._failures.pop(lane, None)
            except Exception as error:  # noqa: BLE001 - the other addresses go on
                try:
                    await self._failed(lane, error)
                except Exception as worse:  # noqa: BLE001 - such as a full disk
                    log_fault(log, f"noting trouble with {lane[1]}", worse)
                    self._rest(lane, backoff_delay(self._failures[lane]))

    async def _go_through(self, lane: Lane) -> None:
        # Looked at again only once something was done: what was seen is then out of date.
        seen, work = self._commits, await self._look(lane)
        await self._answers_first()
        if self._stopping:
            return
        if self._commits != seen:
            work = await self._look(lane)
        if work.destination.squad_id:
            if work.destination.opening:
                await self._open(work.destination)
                work = await self._look(lane)
            if await self._members.fill(work):
                work = await self._look(lane)
        work = await self._send_outbox(lane, work)
        await self._show_live_messages(lane, work)
        if work.room is not None and not self._stopping:
            await self._closer.close(work.room)
            await self._renamer.rename(work.room)

    def _committed(self) -> None:
        self._commits += 1

    async def _look(self, lane: Lane) -> LaneWork:
        now = self._clock.now()
        return await self._store.look(lambda db: work_at(db, lane, now))

    async def _destination(self, lane: Lane) -> Destination:
        return await self._store.look(lambda db: destination_of(db, *lane))

    async def _open(self, destination: Destination) -> Destination:
        """Open what the address needs; where it leads then."""
        try:
            if destination.opening == "private":
                await self._opener.open_private(destination, self._clock.now())
            else:
                await self._opener.open_direct(destination)
        except discord.HTTPException as error:
            if not destination.direct or classify(error, self._client).meaning != "closed":
                raise
            now = self._clock.now()
            await self._store.transact(lambda db: direct_messages.closed(db, destination, now))
        return await self._destination((destination.tryout_id, destination.address))

    async def _send_outbox(self, lane: Lane, work: LaneWork) -> LaneWork:
        """Send what can be sent; what is then to be done."""
        while work.outgoing is not None and not self._stopping:
            outgoing, destination, now = work.outgoing, work.destination, self._clock.now()
            late = outgoing.stale_after is not None and outgoing.stale_after <= now
            goes_on = True
            if destination.dead or (late and destination.waits):
                await self._skip(outgoing, destination.dead or "too-late")
            elif destination.waits or (outgoing.not_before > now and not late):
                break
            elif destination.room_id is None:
                await self._open(destination)
            else:
                async with self._rooms[destination.room_id]:
                    goes_on = await self._sender.deliver(outgoing, destination)
            work = await self._look(lane)
            if not goes_on:
                break
        return work

    async def _skip(self, outgoing: OutboxMessage, why: str) -> None:
        now = self._clock.now()
        await self._store.transact(lambda db: outbox_outcome.skipped(db, outgoing, why, now))

    async def _show_live_messages(self, lane: Lane, work: LaneWork) -> None:
        found = work.live
        if len(found) > 1 and work.destination.room_id is not None:
            unchanged = await self._publisher.settle_unchanged(found, work.destination.room_id)
            found = [live for live in found if live.id not in unchanged]
        for live in found:
            if work.composed is not None:
                destination, composed = work.destination, work.composed
            else:
                now = self._clock.now()
                destination, composed = await self._store.look(
                    partial(composed_at, lane=lane, live_id=live.id, now=now)
                )
            if destination.opening:
                destination = await self._open(destination)
            if self._stopping or destination.waits:
                return
            if destination.dead:
                await self._store.transact(partial(live_messages.dropped, live_id=live.id))
            elif destination.room_id is not None:
                async with self._rooms[destination.room_id]:
                    await self._publisher.show(composed, destination)

    async def _failed(self, lane: Lane, error: Exception) -> None:
        """Leave the address alone for a while; the coach is told once what only the coach can mend."""
        self._failures[lane] += 1
        trouble, pause = classify(error, self._client), backoff_delay(self._failures[lane])
        if trouble.meaning == "later":
            log.info("%s waits: %s", lane[1], trouble.why)
            self._rest(lane, max(pause, timedelta(seconds=trouble.wait or 0)))
            return
        if trouble.meaning == "fault":
            log_fault(log, f"delivering to {lane[1]}", error)
            self._rest(lane, pause)
            return
        log.warning("no way to %s: %s", lane[1], trouble.why)
        destination, now = await self._destination(lane), self._clock.now()
        lost = trouble.meaning == "gone" and destination.private and destination.room_id is not None

        async def note(db: Transaction) -> bool:
            if lost and await lost_rooms.room_lost(db, destination, now):
                return True
            await outbox_outcome.tell_once(db, destination, "no-room", words.trouble("no-room", destination.label), now)
            return False

        if await self._store.transact(note):
            self._rest(lane, pause)
            return
        self._troubled.add(lane)
        self._rest(lane, LONGEST)

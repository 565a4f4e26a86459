"""Builds everything once, runs it, and closes it: database, clock, chat client, router, delivery."""

import asyncio
import gc
import logging
import signal
from contextlib import AsyncExitStack, suppress
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from bot.actions.core.fault_log import log_loop_fault
from bot.actions.core.live_messages import look_again
from bot.actions.core.registry import register_all
from bot.actions.delivery import backup_notice
from bot.actions.privacy.purge import drop_old_answers
from bot.clock import LiveClock, MainClock, Nightly
from bot.connection.chat_client import ChatClient
from bot.connection.log_in import stay_on_line
from bot.connection.outage_log import Outage
from bot.connection.proxy import proxy_for
from bot.interactions.router import InteractionRouter
from bot.rules.core.backoff import backoff_delay
from bot.settings import BadSetting, Settings
from bot.signs_of_life import SignsOfLife
from bot.systemd_notify import notify
from bot.words.core import startup
from storage.backup import last_backup, make_nightly_backup
from storage.faults import DamagedDatabase, StorageFault, as_faults
from storage.lock import DatabaseInUse, only_process
from storage.migrate import NewerDatabase, migrate
from storage.store import Store

if TYPE_CHECKING:
    from bot.delivery.service import DeliveryService

log = logging.getLogger(__name__)

GARBAGE = 50_000
"""So many new objects are made between two looks for those that nobody needs any more; a form takes about 300."""
BACKUP_AT = time(3, 30)
"""In the zone of the machine; a backup hinders nobody, so that a wrong zone does no harm."""


async def run(settings: Settings) -> None:
    """Run the bot until it is asked to stop.

    Raises:
        BadSetting: it cannot start; the text says why and what to do.
    """
    asyncio.get_running_loop().set_exception_handler(lambda _, context: log_loop_fault(log, context))
    async with AsyncExitStack() as stack:
        store = await _open_store(stack, settings)
        clock = await _open_clock(stack, settings.clock)
        store.keys_from(clock.random_bytes)
        outage = Outage(settings.api or startup.PLATFORM)
        signs = SignsOfLife(settings.database, clock, gaps=settings.clock is None)
        client = await stack.enter_async_context(ChatClient(store, signs, outage, *proxy_for(settings.api)))
        beating = asyncio.create_task(signs.beat(store), name="signs of life")
        stack.callback(signs.stop)
        stack.push_async_callback(_cancelled, beating)
        client.router.pause = clock.pause
        working = asyncio.create_task(_work(client, store, clock, signs, settings.database))
        end = Ending(client, working)
        line = asyncio.create_task(stay_on_line(client, outage, settings), name="line")
        stack.push_async_callback(_cancelled, line)
        stack.push_async_callback(end.wait)
        # It may just be pausing between two tries when the end has come.
        await asyncio.wait((line, end.over), return_when=asyncio.FIRST_COMPLETED)
        if line.done():
            line.result()


class Ending:
    """The orderly end: whoever waits is answered, what is being sent is finished, and then we hang up."""

    def __init__(self, client: ChatClient, working: asyncio.Task[None]) -> None:
        """The end begins with a signal, or when the work ends by itself."""
        self._client = client
        self._working = working
        self._task: asyncio.Task[None] | None = None
        self.over: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        """Done once everything has ended."""
        working.add_done_callback(lambda _: self.begin())
        for number in (signal.SIGINT, signal.SIGTERM):
            # Where the loop cannot take signals (Windows), Ctrl-C ends asyncio.run, which comes to `wait` as well.
            with suppress(NotImplementedError):
                asyncio.get_running_loop().add_signal_handler(number, self.begin)

    def begin(self) -> None:
        """Begin to end, once."""
        self._task = self._task or asyncio.create_task(self._end(), name="ending")

    async def wait(self) -> None:
        """Wait until everything has ended; a fault of the work comes out here."""
        self.begin()
        assert self._task is not None
        await self._task
        with suppress(asyncio.CancelledError):
            await self._working

    async def _end(self) -> None:
        notify("STOPPING=1")
        self._working.cancel()
        try:
            await asyncio.gather(self._client.router.in_flight.drain(), asyncio.wait([self._working]))
            await self._client.close()
        finally:
            self.over.set_result(None)


async def _cancelled(task: asyncio.Task[None]) -> None:
    task.cancel()
    await asyncio.wait([task])


async def _work(client: ChatClient, store: Store, clock: MainClock, signs: SignsOfLife, database: Path) -> None:
    """Answer and deliver, from the moment the platform is reached until cancelled."""
    await client.reached.wait()
    make_delivery = await asyncio.to_thread(_learn)
    # Before anything is caught up, so that it is still known what is late.
    await signs.tell_missed(store)
    in_flight = client.router.in_flight
    async with make_delivery(client, store, clock, answers_first=in_flight.answers_first) as delivery:
        in_flight.open()
        store.on_commit(delivery.wake)
        signs.next_due = delivery.next_wake
        back_up = _back_up_nightly(store, clock, signs, database)
        clock.settle_with(lambda: _quiet(client.router, delivery))
        signs.last_backup_at = _last_backup(database)
        if signs.last_backup_at is None or clock.now() - signs.last_backup_at > timedelta(days=1):
            # The program does not run at night, or is new.
            await back_up()
        await _look_again(store)
        await clock.lost()


async def _look_again(store: Store) -> None:
    """Have shown anew what the last answers before the start may not have shown, as soon as the disk lets us."""
    failures = 0
    while True:
        try:
            return await look_again(store)
        except StorageFault:
            failures += 1
            await asyncio.sleep(backoff_delay(failures).total_seconds())


def _learn() -> type["DeliveryService"]:
    """Import most of the program: late, so that the platform is reached first, and beside the event loop."""
    from bot.delivery.service import DeliveryService

    register_all()
    # All of it stays: the collector need not go through it again and again, and a burst of presses is over before it
    # would find anything.
    gc.freeze()
    gc.set_threshold(GARBAGE)
    return DeliveryService


async def _open_store(stack: AsyncExitStack, settings: Settings) -> Store:
    path = settings.database
    try:
        with as_faults():
            stack.enter_context(only_process(path))
            migrate(path)
        return await stack.enter_async_context(Store.open(path))
    except DatabaseInUse as used:
        raise BadSetting(startup.database_in_use(str(path))) from used
    except NewerDatabase as newer:
        raise BadSetting(startup.database_newer(str(path))) from newer
    except DamagedDatabase as damaged:
        raise BadSetting(startup.database_damaged(str(path))) from damaged
    except StorageFault as fault:
        raise BadSetting(startup.database_unusable(str(path), str(fault))) from fault


async def _open_clock(stack: AsyncExitStack, address: str | None) -> MainClock:
    if address is None:
        return await stack.enter_async_context(LiveClock())
    from bot.stepped_clock import open_stepped_clock

    try:
        return await stack.enter_async_context(open_stepped_clock(address))
    except ConnectionError as absent:
        raise BadSetting(startup.unreachable(address)) from absent


def _back_up_nightly(store: Store, clock: MainClock, signs: SignsOfLife, database: Path) -> Nightly:
    """Back up every night; returns what does it."""

    async def back_up() -> None:
        now = clock.now()
        try:
            # First: what is forgotten shall not be in the copy.
            await drop_old_answers(store, now)
            # In a thread: copying and checking take longer than anyone may be kept waiting.
            made = await asyncio.to_thread(make_nightly_backup, database, now)
            signs.last_backup_at = now
            await backup_notice.worked(store)
            log.info("backup %s", made.name)
        except StorageFault as error:
            log.error("no backup: %s", error)
            with suppress(StorageFault):
                await backup_notice.failed(store, str(error), now)

    clock.every_night(BACKUP_AT, back_up, clock.own_zone())
    return back_up


def _last_backup(database: Path) -> datetime | None:
    try:
        return last_backup(database)
    except StorageFault:
        return None


async def _quiet(router: InteractionRouter, delivery: "DeliveryService") -> None:
    """Wait until nobody waits for an answer and everything that can be delivered now has been."""
    await delivery.quiet()
    while router.in_flight.count:
        await asyncio.sleep(0.001)
        await delivery.quiet()

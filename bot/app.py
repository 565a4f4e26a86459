"""Builds everything once, runs it, and closes it: database, clock, chat client, router, delivery."""

import asyncio
import logging
import signal
from contextlib import AsyncExitStack, suppress
from pathlib import Path
from types import ModuleType

from bot import memory
from bot.actions.core.fault_log import log_loop_fault
from bot.clock import LiveClock, MainClock
from bot.connection.chat_client import ChatClient
from bot.connection.log_in import stay_on_line
from bot.connection.outage_log import Outage
from bot.connection.proxy import proxy_for
from bot.interactions.graceful_shutdown import drain
from bot.online_status import OnlineStatus
from bot.rules.squads.lookalikes import read_table
from bot.settings import BadSetting, Settings
from bot.systemd_notify import notify
from bot.words.core import connection_log, file_errors, startup_errors
from storage.file_errors import DamagedDatabase, StorageFault, as_faults
from storage.lock import DatabaseInUse, only_process
from storage.migrate import NewerDatabase, migrate
from storage.store import Store

log = logging.getLogger(__name__)


async def run(settings: Settings) -> None:
    """Run the bot until it is asked to stop.

    Raises:
        BadSetting: it cannot start; the text says why and what to do.
    """
    asyncio.get_running_loop().set_exception_handler(lambda _, context: log_loop_fault(log, context))
    memory.share()
    async with AsyncExitStack() as stack:
        stack.push_async_callback(_cancelled, asyncio.create_task(memory.keep_small(), name="memory"))
        store = await _open_store(stack, settings)
        clock = await _open_clock(stack, settings.clock)
        store.keys_from(clock.random_bytes)
        outage = Outage(settings.api or connection_log.PLATFORM)
        signs = OnlineStatus(settings.database, clock, gaps=settings.clock is None)
        client = await stack.enter_async_context(ChatClient(store, signs, outage, *proxy_for(settings.api)))
        beating = asyncio.create_task(signs.beat(store), name="signs of life")
        stack.callback(signs.stop)
        stack.push_async_callback(_cancelled, beating)
        client.later = clock.later
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
            await asyncio.gather(drain(self._client.in_flight), asyncio.wait([self._working]))
            await self._client.close()
        finally:
            self.over.set_result(None)


async def _cancelled(task: asyncio.Task[None]) -> None:
    task.cancel()
    await asyncio.wait([task])


async def _work(client: ChatClient, store: Store, clock: MainClock, signs: OnlineStatus, database: Path) -> None:
    """Answer and deliver, from the moment the platform is reached until cancelled."""
    await client.reached.wait()
    learnt = await asyncio.to_thread(_learn)
    await learnt.work(client, store, clock, signs, database)


def _learn() -> ModuleType:
    """Import most of the program: late, so that the platform is reached first, and beside the event loop."""
    # First: for a moment this takes several MiB, which what is imported then moves into.
    read_table()
    from bot import when_connected

    when_connected.begin()
    memory.collect_seldom()
    return when_connected


async def _open_store(stack: AsyncExitStack, settings: Settings) -> Store:
    path = settings.database
    try:
        with as_faults():
            stack.enter_context(only_process(path))
            migrate(path)
        return await stack.enter_async_context(Store.open(path))
    except DatabaseInUse as used:
        raise BadSetting(file_errors.database_in_use(str(path))) from used
    except NewerDatabase as newer:
        raise BadSetting(file_errors.database_newer(str(path))) from newer
    except DamagedDatabase as damaged:
        raise BadSetting(file_errors.database_damaged(str(path))) from damaged
    except StorageFault as fault:
        raise BadSetting(file_errors.database_unusable(str(path), str(fault))) from fault


async def _open_clock(stack: AsyncExitStack, address: str | None) -> MainClock:
    if address is None:
        return await stack.enter_async_context(LiveClock())
    from bot.stepped_clock import open_stepped_clock

    try:
        return await stack.enter_async_context(open_stepped_clock(address))
    except ConnectionError as absent:
        raise BadSetting(startup_errors.unreachable(address)) from absent

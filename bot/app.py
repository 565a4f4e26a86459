"""Builds everything once, runs it, and closes it: database, clock, chat client, desk, delivery."""

import asyncio
import gc
import logging
import signal
from contextlib import AsyncExitStack, suppress
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import aiohttp
import discord
from discord import app_commands
from yarl import URL

from bot.actions.core.live_messages import look_again
from bot.actions.core.registry import register_all
from bot.actions.delivery import backup_notice
from bot.clock import Clock, LiveClock, Nightly, SteppedClock, open_clock
from bot.interactions import every_command
from bot.interactions.direct_messages import DirectMessageListener
from bot.interactions.router import InteractionRouter
from bot.rules.core.backoff import backoff_delay
from bot.settings import BadSetting, Settings, checked_address
from bot.words.core import startup
from storage.backup import last_backup, make_nightly_backup
from storage.faults import DamagedDatabase, StorageFault, as_faults
from storage.lock import DatabaseInUse, only_process
from storage.migrate import NewerDatabase, migrate
from storage.store import Store

if TYPE_CHECKING:
    from bot.delivery.service import DeliveryService

log = logging.getLogger(__name__)

BACKUP_AT = time(3, 30)
"""In the zone of the machine; a backup hinders nobody, so that a wrong zone does no harm."""


LONGEST_RATE_WAIT_S = 30.0
"""Longer than this the chat library does not sleep over a request; whoever made it tries again later."""


class Client(discord.Client):
    """The chat client: it only receives, and hands everything to the router."""

    def __init__(self, store: Store) -> None:
        # We do not speak; whoever runs us need not read twice at each start that we could not.
        discord.VoiceClient.warn_nacl = discord.VoiceClient.warn_dave = False
        super().__init__(
            intents=discord.Intents(guilds=True, dm_messages=True),
            allowed_mentions=discord.AllowedMentions.none(),
            max_messages=None,
            max_ratelimit_timeout=LONGEST_RATE_WAIT_S,
            chunk_guilds_at_startup=False,
            member_cache_flags=discord.MemberCacheFlags.none(),
        )
        self.router = InteractionRouter(store)
        self.listener = DirectMessageListener(self.router, store)
        self.tree = app_commands.CommandTree(self)
        self.reached = asyncio.Event()
        self._ending: asyncio.Task[None] | None = None
        self._telling: asyncio.Task[None] | None = None
        for command in every_command(self.router):
            self.tree.add_command(command)

    async def setup_hook(self) -> None:
        """Once, after the login: tell the platform our commands; if it cannot listen now, again and again."""
        if not await self._tell_commands():
            self._telling = asyncio.create_task(self._tell_until_heard())

    async def _tell_commands(self) -> bool:
        try:
            await self.tree.sync()
        except (discord.DiscordServerError, discord.RateLimited, aiohttp.ClientError, OSError) as busy:
            log.warning("the platform did not take our commands: %s", type(busy).__name__)
            return False
        return True

    async def _tell_until_heard(self) -> None:
        failures = 1
        while not await self._tell_commands():
            failures += 1
            await asyncio.sleep(backoff_delay(failures).total_seconds())

    async def on_connect(self) -> None:
        """The platform has us (again)."""
        self.reached.set()

    def end(self) -> None:
        """Hang up; `run` then goes on to its end."""
        self._ending = self._ending or asyncio.create_task(self.close())

    async def on_ready(self) -> None:
        """Note in the log that we are on line."""
        log.info("%s", startup.connected(str(self.user), len(self.guilds)))

    async def on_message(self, message: discord.Message) -> None:
        """What someone wrote; only judges in direct messages are heard."""
        await self.listener.heard(message)

    async def on_interaction(self, interaction: discord.Interaction) -> None:
        """Every press, choice and form; commands come through the tree."""
        await self.router.pressed(interaction)


async def run(settings: Settings) -> None:
    """Run the bot until it is asked to stop.

    Raises:
        BadSetting: it cannot start; the text says why and what to do.
    """
    async with AsyncExitStack() as stack:
        store = await _open_store(stack, settings)
        clock = await _open_clock(stack, settings.clock)
        if settings.api is not None:
            discord.http.Route.BASE = settings.api
        client = await stack.enter_async_context(Client(store))
        working = asyncio.create_task(_work(client, store, clock, settings.database))
        working.add_done_callback(lambda _: client.end())
        _stop_on_signal(working)
        stack.push_async_callback(_stop, working)
        await _stay_on_line(client, settings)


async def _stay_on_line(client: Client, settings: Settings) -> None:
    """Log in and listen until the client is closed."""
    platform = settings.api or "the platform"
    try:
        await client.login(settings.token)
        if settings.api is not None:
            await _ask_gateway(client)
        await client.connect()
    except discord.LoginFailure as refused:
        raise BadSetting(startup.token_refused()) from refused
    except discord.HTTPException as error:
        raise BadSetting(startup.odd_answer(platform, f"HTTP {error.status}, code {error.code}")) from error
    except discord.ConnectionClosed as closed:
        raise BadSetting(startup.odd_answer(platform, f"gateway code {closed.code}")) from closed
    except (aiohttp.ClientError, OSError) as unreachable:
        # Whoever asks us to stop while we are still calling the platform gets no answer, either.
        if not client.is_closed():
            raise BadSetting(startup.unreachable(platform)) from unreachable


async def _work(client: Client, store: Store, clock: Clock, database: Path) -> None:
    """Answer and deliver, from the moment the platform is reached until cancelled."""
    await client.reached.wait()
    make_delivery = await asyncio.to_thread(_learn)
    async with make_delivery(client, store, clock) as delivery:
        client.router.open()
        store.on_commit(delivery.wake)
        back_up = _back_up_nightly(store, clock, database)
        if isinstance(clock, SteppedClock):
            clock.settle_with(lambda: _quiet(client.router, delivery))
        if _backup_missed(database, clock.now()):
            await back_up()
        await _look_again(store)
        if isinstance(clock, SteppedClock):
            await clock.lost()
        else:
            await asyncio.get_running_loop().create_future()


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
    # All of it stays: the collector need not go through it again and again.
    gc.freeze()
    return DeliveryService


async def _stop(working: asyncio.Task[None]) -> None:
    working.cancel()
    with suppress(asyncio.CancelledError):
        await working


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


async def _open_clock(stack: AsyncExitStack, address: str | None) -> LiveClock | SteppedClock:
    try:
        return await stack.enter_async_context(open_clock(address))
    except ConnectionError as absent:
        raise BadSetting(startup.unreachable(str(address))) from absent


def _back_up_nightly(store: Store, clock: Clock, database: Path) -> Nightly:
    """Back up every night; returns what does it."""

    async def back_up() -> None:
        now = clock.now()
        try:
            # In a thread: copying and checking take longer than anyone may be kept waiting.
            made = await asyncio.to_thread(make_nightly_backup, database, now)
            await backup_notice.worked(store)
            log.info("backup %s", made.name)
        except StorageFault as error:
            log.error("no backup: %s", error)
            with suppress(StorageFault):
                await backup_notice.failed(store, str(error), now)

    zone = datetime.now().astimezone().tzinfo if isinstance(clock, LiveClock) else UTC
    clock.every_night(BACKUP_AT, back_up, zone or UTC)
    return back_up


def _backup_missed(database: Path, now: datetime) -> bool:
    """Whether there was no backup last night: the program does not run at night, or is new."""
    try:
        last = last_backup(database)
    except StorageFault:
        return True
    return last is None or now - last > timedelta(days=1)


async def _ask_gateway(client: Client) -> None:
    """Take the gateway that a compatible server names; the chat library would go to the public one."""
    found = await client.http.request(discord.http.Route("GET", "/gateway"))
    address = checked_address(str(found["url"]), "The gateway", secure="wss", plain="ws")
    discord.gateway.DiscordWebSocket.DEFAULT_GATEWAY = URL(address)


async def _quiet(router: InteractionRouter, delivery: "DeliveryService") -> None:
    """Wait until nobody waits for an answer and everything that can be delivered now has been."""
    await delivery.quiet()
    while router.in_flight:
        await asyncio.sleep(0.001)
        await delivery.quiet()


def _stop_on_signal(working: asyncio.Task[None]) -> None:
    """On a signal the work ends first, with what is on its way; hanging up follows from that."""
    for number in (signal.SIGINT, signal.SIGTERM):
        # Where the loop cannot take signals (Windows), Ctrl-C ends asyncio.run in the same way.
        with suppress(NotImplementedError):
            asyncio.get_running_loop().add_signal_handler(number, working.cancel)

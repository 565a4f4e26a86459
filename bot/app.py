"""Builds everything once, runs it, and closes it: database, clock, chat client, desk, post."""

import asyncio
import logging
import signal
import sqlite3
from collections.abc import Callable
from contextlib import AsyncExitStack, suppress

import aiohttp
import discord
from discord import app_commands
from yarl import URL

from bot.clock import Clock, LiveClock, SteppedClock
from bot.desk import every_command
from bot.desk.door import Door
from bot.post.service import Post
from bot.settings import BadSetting, Settings, checked_address
from bot.words import startup
from storage.lock import DatabaseInUse, only_process
from storage.migrate import NewerDatabase, migrate
from storage.store import Store

log = logging.getLogger(__name__)


class Client(discord.Client):
    """The chat client: it only receives, and hands everything to the door."""

    def __init__(self, store: Store, begin: Callable[["Client"], asyncio.Future[None]]) -> None:
        super().__init__(
            intents=discord.Intents(guilds=True, dm_messages=True),
            allowed_mentions=discord.AllowedMentions.none(),
            max_messages=None,
            chunk_guilds_at_startup=False,
            member_cache_flags=discord.MemberCacheFlags.none(),
        )
        self.door = Door(store)
        self.tree = app_commands.CommandTree(self)
        self._begin = begin
        for command in every_command(self.door):
            self.tree.add_command(command)

    async def setup_hook(self) -> None:
        """Once, after the login: tell the platform our commands, then begin to deliver."""
        await self.tree.sync()
        await self._begin(self)

    async def on_ready(self) -> None:
        """Note in the log that we are on line."""
        log.info("%s", startup.connected(str(self.user), len(self.guilds)))

    async def on_interaction(self, interaction: discord.Interaction) -> None:
        """Every press, choice and form; commands come through the tree."""
        await self.door.pressed(interaction)


async def run(settings: Settings) -> None:
    """Run the bot until it is asked to stop.

    Raises:
        BadSetting: it cannot start; the text says why and what to do.
    """
    async with AsyncExitStack() as stack:
        store = await _open_store(stack, settings)
        clock: Clock
        if settings.clock is None:
            clock = await stack.enter_async_context(LiveClock())
        else:
            clock = await stack.enter_async_context(SteppedClock(settings.clock))
            await clock.started()
        if settings.api is not None:
            await _point_at(settings.api)

        async def begin(client: Client) -> None:
            post = await stack.enter_async_context(Post(client, store, clock))
            store.on_commit(post.wake)
            if isinstance(clock, SteppedClock):
                clock.settle_with(lambda: _quiet(client.door, post))

        client = await stack.enter_async_context(Client(store, begin))
        _stop_on_signal(client)
        try:
            await client.start(settings.token)
        except discord.LoginFailure as refused:
            raise BadSetting(startup.token_refused()) from refused
        except (aiohttp.ClientError, OSError) as unreachable:
            raise BadSetting(startup.unreachable(settings.api or "the platform")) from unreachable


async def _open_store(stack: AsyncExitStack, settings: Settings) -> Store:
    path = settings.database
    try:
        stack.enter_context(only_process(path))
        migrate(path)
        return await stack.enter_async_context(Store.open(path))
    except DatabaseInUse as used:
        raise BadSetting(startup.database_in_use(str(path))) from used
    except NewerDatabase as newer:
        raise BadSetting(startup.database_newer(str(path))) from newer
    except (sqlite3.Error, OSError) as error:
        raise BadSetting(startup.database_unusable(str(path), str(error))) from error


async def _point_at(api: str) -> None:
    """Send the chat library to a compatible server: its REST base, and the gateway it names."""
    try:
        async with aiohttp.ClientSession() as session, session.get(f"{api}/gateway") as reply:
            reply.raise_for_status()
            gateway = str((await reply.json())["url"])
    except (aiohttp.ClientError, OSError, KeyError, ValueError) as error:
        raise BadSetting(startup.unreachable(api)) from error
    discord.http.Route.BASE = api
    discord.gateway.DiscordWebSocket.DEFAULT_GATEWAY = URL(checked_address(gateway, "The gateway", "wss", "ws"))


async def _quiet(door: Door, post: Post) -> None:
    """Wait until nobody waits for an answer and everything that can be delivered now has been."""
    await post.quiet()
    while door.in_flight:
        await asyncio.sleep(0.001)
        await post.quiet()


def _stop_on_signal(client: Client) -> None:
    loop = asyncio.get_running_loop()
    for number in (signal.SIGINT, signal.SIGTERM):
        # Where the loop cannot take signals (Windows), Ctrl-C ends asyncio.run in the same way.
        with suppress(NotImplementedError):
            loop.add_signal_handler(number, lambda: loop.create_task(client.close()))

"""The chat client: it receives, hands everything to the router, and survives whatever the platform sends."""

import asyncio
import logging
import sys
from collections.abc import Callable
from functools import cached_property
from typing import TYPE_CHECKING, Any

import aiohttp
import discord
from discord import app_commands

from bot.actions.core.fault_log import fault_code, log_fault
from bot.clock import Later, by_the_loop
from bot.connection.gateway_heartbeat import SILENCE_S
from bot.connection.gateway_reconnect import Line
from bot.connection.outage_log import Outage
from bot.interactions.answers_first import InFlight
from bot.online_status import OnlineStatus
from bot.rules.delivery.backoff import LONGEST_RATE_WAIT_S, backoff_delay
from bot.words.core import connection_log
from storage.store import Store

if TYPE_CHECKING:
    from bot.interactions.direct_messages import DirectMessageListener
    from bot.interactions.router import InteractionRouter

log = logging.getLogger(__name__)

COMMANDS_S = 3.0
"""So long the rest waits at the start until the platform knows our commands; if it takes longer, we go on before."""
SILENT, MESSAGE, COMMAND_SUGGESTIONS = 1 << 6, 4, 4
MESSAGE_SENT, INTERACTION = "MESSAGE_CREATE", "INTERACTION_CREATE"
READ_OF_PRESSED = ("id", "type", "flags", "content")
"""What is read of a message whose button was pressed, and what the library cannot do without."""
UNHEARD = frozenset({"MESSAGE_UPDATE", "MESSAGE_DELETE", "MESSAGE_DELETE_BULK", "CHANNEL_PINS_UPDATE"})
"""Events that nobody here hears, most of them echoes of what we did; the library would make whole messages of them."""

AnyInteraction = discord.Interaction[discord.Client]


class Commands(app_commands.CommandTree[discord.Client]):
    """The slash commands; one that cannot even be read is answered, too."""

    client: "ChatClient"

    def fill(self) -> None:
        """Have all commands, once: they come with what deals with them, and so late."""
        if self.get_commands():
            return
        from bot.interactions.slash_commands import every_command

        for command in every_command(self.client.router):
            self.add_command(command)

    async def _call(self, interaction: AnyInteraction) -> None:
        """The library's own way to a command, on which broken data raise what it does not catch."""
        self.fill()
        try:
            await super()._call(interaction)
        except app_commands.AppCommandError:
            raise
        except Exception as error:  # noqa: BLE001 - whatever it was, the person is told
            await self.client.router.refused(interaction, app_commands.AppCommandError(type(error).__name__))

    async def on_error(self, interaction: AnyInteraction, error: app_commands.AppCommandError, /) -> None:
        """Answer a command whose function was not reached: a person who left, arguments of another version."""
        await self.client.router.refused(interaction, error)


class ChatClient(discord.Client):
    """The chat client."""

    def __init__(
        self,
        store: Store,
        signs: OnlineStatus,
        outage: Outage,
        proxy: str | None = None,
        proxy_auth: aiohttp.BasicAuth | None = None,
    ) -> None:
        # We do not speak; whoever runs us need not read twice at each start that we could not.
        discord.VoiceClient.warn_nacl = discord.VoiceClient.warn_dave = False
        super().__init__(
            intents=discord.Intents(guilds=True, dm_messages=True),
            allowed_mentions=discord.AllowedMentions.none(),
            max_messages=None,
            max_ratelimit_timeout=LONGEST_RATE_WAIT_S,
            heartbeat_timeout=SILENCE_S,
            chunk_guilds_at_startup=False,
            member_cache_flags=discord.MemberCacheFlags.none(),
            proxy=proxy,
            proxy_auth=proxy_auth,
        )
        self.in_flight = InFlight()
        """What has come in and has not been answered yet; whoever comes before it is opened waits there."""
        self.later: Later = by_the_loop
        """What tells whoever has waited for so many seconds to wait on."""
        self.tree = Commands(self)
        self.reached = asyncio.Event()
        self._store = store
        self._signs = signs
        self._line = Line(self, outage)
        self._telling: set[asyncio.Task[None]] = set()
        parsers = self._connection.parsers
        for event in set(parsers) - {"READY", "RESUMED"}:
            parsers[event] = self._guarded(event, parsers[event])

    @cached_property
    def router(self) -> "InteractionRouter":
        """Deals with interactions. It is there once we are on line, or with the first of them: much comes with it."""
        from bot.interactions.router import InteractionRouter

        return InteractionRouter(self._store, self.in_flight, self.later)

    @cached_property
    def listener(self) -> "DirectMessageListener":
        """Hears what judges type; as late as the router."""
        from bot.interactions.direct_messages import DirectMessageListener

        return DirectMessageListener(self.router, self._store)

    async def tell_commands(self) -> None:
        """Tell the platform our commands; if it cannot listen now, again and again, and the rest goes on meanwhile."""
        self.tree.fill()
        telling = self._begin(self._tell_until_heard())
        await asyncio.wait((telling,), timeout=COMMANDS_S)

    async def connect(self, *, reconnect: bool = True) -> None:
        """Stay on line until closed.

        Raises:
            BadSetting: the platform does not let us in, and waiting does not mend that.
        """
        await self._line.hold()

    async def close(self) -> None:
        """Hang up."""
        for task in self._telling:
            task.cancel()
        await super().close()

    def dispatch(self, event: str, /, *args: Any, **kwargs: Any) -> None:
        """Pass an event on; after hanging up there is nobody left to pass it to."""
        if not self.is_closed():
            super().dispatch(event, *args, **kwargs)

    async def on_connect(self) -> None:
        """The platform has us (again), in a new session."""
        self._line.up()
        self._signs.came_on_line()
        self.reached.set()

    async def on_resumed(self) -> None:
        """The platform has us again, in the session we had."""
        self._line.up()
        self._signs.came_on_line()

    async def on_disconnect(self) -> None:
        """The line is lost; a new one is being made."""
        self._signs.went_off_line()

    async def on_ready(self) -> None:
        """Note in the log that we are on line."""
        log.info("%s", connection_log.connected(str(self.user), len(self.guilds)))

    async def on_message(self, message: discord.Message) -> None:
        """What someone wrote; only judges in direct messages are heard."""
        await self.listener.heard(message)

    async def on_interaction(self, interaction: AnyInteraction) -> None:
        """Every press, choice and form; commands come through the tree."""
        await self.router.pressed(interaction)

    async def on_error(self, event_method: str, /, *args: Any, **kwargs: Any) -> None:
        """An event that could not be dealt with is logged without anybody's words; a person who waits is told."""
        error = sys.exception()
        if args and isinstance(args[0], discord.Interaction) and isinstance(error, Exception):
            await self.router.refused(args[0], error)
        elif error is not None:
            log_fault(log, f"dealing with {event_method}", error)

    def _begin(self, work: Any) -> "asyncio.Task[None]":
        task: asyncio.Task[None] = asyncio.create_task(work)
        self._telling.add(task)
        task.add_done_callback(self._telling.discard)
        return task

    def _guarded(self, event: str, parse: Callable[[Any], None]) -> Callable[[Any], None]:
        """An event that cannot be read is left out; the others go on."""

        def read(data: Any) -> None:
            self._signs.heard()
            try:
                if event not in UNHEARD and (event != MESSAGE_SENT or _may_be_typed(data)):
                    parse(_lighter(data) if event == INTERACTION else data)
            except Exception as error:  # noqa: BLE001 - whatever it was, the line goes on
                # What broke lies in what the platform sent, or in the chat library: one line, however often it happens.
                log.warning("left out an event %s: %s, code %s", event, type(error).__name__, fault_code(error))
                if event == INTERACTION:
                    self._begin(self._tell_unreadable(data))

        return read

    async def _tell_unreadable(self, data: Any) -> None:
        """Answer whoever pressed something that arrived broken, as far as it says where to answer."""
        from bot.interactions.read_request import is_address
        from bot.words.core import faults_and_restarts

        try:
            number, token = int(data["id"]), data["token"]
            if data.get("type") == COMMAND_SUGGESTIONS or not is_address(number, token):
                return
            route = discord.http.Route(
                "POST", "/interactions/{interaction_id}/{interaction_token}/callback",
                interaction_id=number, interaction_token=token,
            )  # fmt: skip
            text = faults_and_restarts.command_unread().text
            answer = {"type": MESSAGE, "data": {"content": text, "flags": SILENT, "allowed_mentions": {"parse": []}}}
            await self.http.request(route, json=answer)
        except Exception as error:  # noqa: BLE001 - there is nobody else to tell
            log.warning("could not answer an event that was left out: %s", type(error).__name__)

    async def _tell_until_heard(self) -> None:
        failures = 0
        while True:
            try:
                await self.tree.sync()
                return
            except (discord.HTTPException, discord.RateLimited, aiohttp.ClientError, OSError, ValueError) as busy:
                failures += 1
                log.warning("the platform did not take our commands: %s", type(busy).__name__)
            except Exception as error:  # noqa: BLE001 - an answer that nobody can read
                failures += 1
                log_fault(log, "telling the platform our commands", error)
            await asyncio.sleep(backoff_delay(failures).total_seconds())


def _lighter(data: Any) -> Any:
    """An interaction without most of the message that was pressed: the library would make objects of all its parts."""
    pressed = data.get("message")
    if not isinstance(pressed, dict):
        return data
    return data | {"message": {name: pressed[name] for name in READ_OF_PRESSED if name in pressed}}


def _may_be_typed(data: Any) -> bool:
    """Whether the listener may want a message: what programs say, we most of all, is not even read."""
    return data.get("guild_id") is None and not data["author"].get("bot")

"""Logging in, as often as it takes: the program may well come up before the network does."""

import asyncio
import json
import logging

import discord
from yarl import URL

from bot.actions.core.fault_log import log_fault
from bot.connection.chat_client import ChatClient
from bot.connection.connection_errors import trouble_of
from bot.connection.outage_log import Outage
from bot.connection.reconnect_pauses import wished_pause
from bot.settings import BadSetting, Settings, checked_address
from bot.words.core import startup_errors

log = logging.getLogger(__name__)

LOG_IN_S = 20.0
"""How long one try to log in may take."""


async def stay_on_line(client: ChatClient, outage: Outage, settings: Settings) -> None:
    """Log in and listen until the client is closed.

    Raises:
        BadSetting: the platform does not let us in, and waiting does not mend that.
    """
    if settings.api is not None:
        discord.http.Route.BASE = settings.api
    while not client.is_closed():
        try:
            async with asyncio.timeout(LOG_IN_S):
                await client.login(settings.token)
                if settings.api is not None:
                    await _ask_gateway(client)
            break
        except BadSetting:
            raise
        except discord.LoginFailure as refused:
            raise BadSetting(startup_errors.token_refused()) from refused
        except Exception as error:
            if client.is_closed():
                return
            what = trouble_of(error)
            if what is None and isinstance(error, discord.HTTPException):
                platform = settings.api or "the platform"
                reason = f"HTTP {error.status}, code {error.code}"
                raise BadSetting(startup_errors.odd_answer(platform, reason)) from error
            if what is None and not isinstance(error, (json.JSONDecodeError, LookupError, TypeError, AttributeError)):
                log_fault(log, "logging in", error)
            await _forget_session(client)
            await asyncio.sleep(outage.failed(what or "odd", wished_pause(error)))
    await client.connect()


async def _forget_session(client: ChatClient) -> None:
    """Close what the failed try has opened; the library would open a second one beside it."""
    await client.http.close()
    client.http.connector = discord.utils.MISSING


async def _ask_gateway(client: ChatClient) -> None:
    """Take the gateway that a compatible server names; the chat library would go to the public one."""
    found = await client.http.request(discord.http.Route("GET", "/gateway"))
    address = checked_address(str(found["url"]), "The gateway", secure="wss", plain="ws")
    discord.gateway.DiscordWebSocket.DEFAULT_GATEWAY = URL(address)

"""What judges type into their direct messages; nothing else that anybody writes is read."""

import asyncio
import logging
from collections.abc import Callable
from contextlib import suppress
from functools import partial

import aiohttp
import discord

from bot.actions.core.dispatch import perform
from bot.actions.core.fault_log import log_fault
from bot.actions.core.registry import action_of
from bot.actions.delivery.direct_messages import is_judge
from bot.delivery.render import message_kwargs
from bot.interactions.answers_first import Stopping
from bot.interactions.router import InteractionRouter
from bot.interactions.send_answer import SENDING_S
from bot.rules.core.picked_server_members import LONGEST_NAME
from bot.words.core import faults_and_restarts
from bot.words.core.action_keys import ActionKey
from bot.words.core.plain_text import cut
from storage.records.message import Message, Open
from storage.records.request import Request
from storage.store import StorageFault, Store

log = logging.getLogger(__name__)


class DirectMessageListener:
    """Hears what is written in direct messages, has the actions deal with it, and answers there."""

    def __init__(self, router: InteractionRouter, store: Store) -> None:
        self._in_flight = router.in_flight
        self._store = store

    async def heard(self, message: discord.Message) -> None:
        """Deal with a message; what anybody but a judge writes, or writes elsewhere, is let pass.

        The message's own id is the first answer, so that it never acts twice, and the nonce of the answer, so that the
        answer never comes twice.
        """
        if message.guild is not None or message.author.bot or not message.content:
            return
        with self._in_flight.counted(partial(self._tell, message, faults_and_restarts.cut_short)) as out:
            try:
                answer = await self._in_flight.deal(self._answer(message))
            except Stopping:
                await self._tell(message, faults_and_restarts.restarting_typed)
                return
            out()
            if answer is not None:
                await self._send(message, answer)

    async def _tell(self, message: discord.Message, what: Callable[[], Message]) -> None:
        with suppress(StorageFault):
            if await is_judge(self._store, message.author.id):
                await self._send(message, what())

    async def _send(self, message: discord.Message, answer: Message) -> None:
        try:
            async with asyncio.timeout(SENDING_S):
                await message.channel.send(**message_kwargs(answer), nonce=message.id)
        except discord.HTTPException as error:
            log.warning("could not answer what a judge typed: %s (%s)", error.status, error.code)
        except (aiohttp.ClientError, OSError) as cut:
            log.warning("could not answer what a judge typed: %s", type(cut).__name__)

    async def _answer(self, message: discord.Message) -> Message | None:
        try:
            if not await is_judge(self._store, message.author.id):
                return None
            request = Request(
                id=message.id,
                at=message.created_at,
                who=message.author.id,
                name=cut(message.author.display_name, LONGEST_NAME),
                room_id=message.channel.id,
                fields={"text": message.content},
                stands=True,
            )
            answer = await perform(self._store, action_of(ActionKey.SHEETS_TYPED), request)
        except StorageFault as fault:
            log.error("cannot save: %s", fault)
            return faults_and_restarts.cannot_save()
        except Exception as error:  # noqa: BLE001 - whatever went wrong, the judge is told once
            return faults_and_restarts.fault(log_fault(log, "dealing with what a judge typed", error))
        return None if isinstance(answer, Open) else answer.message

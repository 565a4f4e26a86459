"""The one router: every press, choice, form and command comes in here and leaves with exactly one answer.

Keys are routed here and not by the chat library's own table of views: that table lives in memory, so a restart would
leave every button and every open form dead. What a key means stands in the key.
"""

import logging
from collections.abc import Mapping
from contextlib import AsyncExitStack
from functools import partial
from typing import Any

import discord
from discord import app_commands

from bot.actions.core.dispatch import perform, refuse_files
from bot.actions.core.fault_log import log_fault
from bot.actions.core.followers import unanswered
from bot.actions.core.live_messages import not_shown
from bot.actions.core.registry import action_of
from bot.clock import Later, by_the_loop
from bot.interactions.answers_first import InFlight, Stopping
from bot.interactions.deferred_answers import answer_or_defer, defer, told_after
from bot.interactions.downloads import Downloads
from bot.interactions.files_at_once import CARRIED_AT_ONCE, UPLOADS_AT_ONCE, FewAtOnce
from bot.interactions.read_request import (
    Unreadable,
    chosen_values,
    form_fields,
    has_uploads,
    is_address,
    read_request,
)
from bot.interactions.send_answer import can_be_given, send_answer
from bot.words.core import faults_and_restarts, refusals
from bot.words.core.action_keys import AnyKey
from bot.words.core.custom_ids import split
from bot.words.core.written_given_back import with_written
from storage.records.message import Answer, Open, Replace, Say, Select
from storage.store import StorageFault, Store

log = logging.getLogger(__name__)


class InteractionRouter:
    """Turns interactions into requests, has the actions deal with them, and answers the person."""

    def __init__(
        self,
        store: Store,
        in_flight: InFlight | None = None,
        later: Later = by_the_loop,
    ) -> None:
        """`later` lets so many seconds pass before whoever waits is told to."""
        self._store = store
        self._downloads = Downloads()
        self._uploads, self._carried = FewAtOnce(UPLOADS_AT_ONCE), FewAtOnce(CARRIED_AT_ONCE)
        self.in_flight = in_flight or InFlight()
        """What has come in and has not been answered yet; whoever comes before it is opened waits there."""
        self.later = later

    async def pressed(self, interaction: discord.Interaction) -> None:
        """Answer a press, a choice or a form; commands come through `command`."""
        try:
            await self._pressed(interaction)
        except Unreadable:
            await self.refused(interaction)

    async def _pressed(self, interaction: discord.Interaction) -> None:
        data: Mapping[str, Any] = interaction.data or {}
        if interaction.type is discord.InteractionType.component:
            action, args = split(str(data.get("custom_id", "")))
            await self.deal(interaction, action, args=args, values=chosen_values(data))
        elif interaction.type is discord.InteractionType.modal_submit:
            action, args = split(str(data.get("custom_id", "")))
            await self.deal(interaction, action, args=args, fields=form_fields(data))

    async def command(self, interaction: discord.Interaction, action: AnyKey, *args: object, **fields: object) -> None:
        """Answer a slash command as if its button had been pressed or its form filled."""
        typed = {name: str(value) for name, value in fields.items() if value is not None}
        await self.deal(interaction, action, args=tuple(map(str, args)), fields=typed)

    async def suggest(
        self, interaction: discord.Interaction, action: AnyKey, typed: str
    ) -> list[app_commands.Choice[str]]:
        """What to offer while a command is typed: the choices of the list that the action would show."""
        try:
            answer = await self.in_flight.deal(self._suggestions(interaction, action, typed))
        except Stopping:
            return []
        except Exception as error:  # noqa: BLE001 - without suggestions one can still type
            log_fault(log, f"looking for suggestions from {action}", error)
            return []
        rows = () if isinstance(answer, Open) else answer.message.rows
        choices = [choice for row in rows if isinstance(row, Select) for choice in row.choices]
        return [app_commands.Choice(name=choice.label, value=choice.value) for choice in choices]

    async def deal(
        self,
        interaction: discord.Interaction,
        action: AnyKey | None,
        args: tuple[str, ...] = (),
        values: tuple[str, ...] = (),
        fields: dict[str, str] | None = None,
        files: dict[str, discord.Attachment] | None = None,
    ) -> None:
        """Ask the actions and give the answer; whatever goes wrong, the person is told once, privately."""
        if not is_address(interaction.id, interaction.token):
            log.warning("left out an interaction that does not say where to answer")
            return
        with self.in_flight.counted(partial(self._cut_short, interaction, action, fields or {})) as out:
            # What is waited for in turn is held until the answer is out.
            async with AsyncExitStack() as turns:
                try:
                    work = self._answer(interaction, action, args, values, fields or {}, files or {}, turns)
                    known = None if action is None else action_of(action)
                    late_s = told_after(writes=known is not None and known.writes)
                    dealt = self.in_flight.deal(work)
                    answer = await answer_or_defer(dealt, self.later, late_s, partial(defer, interaction))
                except Stopping:
                    answer = Say(message=with_written(faults_and_restarts.restarting(), fields or {}))
                out()
                await self._give_or_log(interaction, action, answer)

    async def _cut_short(self, interaction: discord.Interaction, action: AnyKey | None, fields: dict[str, str]) -> None:
        said = with_written(faults_and_restarts.cut_short(), fields)
        await self._give_or_log(interaction, action, Say(message=said))

    async def refused(self, interaction: discord.Interaction, error: Exception | None = None) -> None:
        """Answer what did not get as far as an action: a picked person is gone, or a command has changed since.

        Where a mistake of ours was in the way, it is logged, and the person reads its code.
        """
        said = faults_and_restarts.command_unread()
        if isinstance(error, app_commands.CommandInvokeError):
            said = faults_and_restarts.fault(log_fault(log, "carrying out a command", error.original))
        elif error is not None and not isinstance(error, app_commands.AppCommandError):
            said = faults_and_restarts.fault(log_fault(log, "dealing with a press, form or command", error))
        elif error is not None and not isinstance(error, app_commands.TransformerError):
            # Another version's command, or broken data: nothing of ours is wrong.
            log.warning("could not read a command: %s", type(error).__name__)
        if interaction.type is discord.InteractionType.autocomplete:
            return
        if not is_address(interaction.id, interaction.token):
            log.warning("left out an interaction that does not say where to answer")
            return
        with self.in_flight.counted():
            await self._give_or_log(interaction, None, Say(message=said))

    async def _suggestions(self, interaction: discord.Interaction, action: AnyKey, typed: str) -> Answer:
        request = read_request(interaction, (), (), {"typed": typed})
        return await perform(self._store, action_of(action), request)

    async def _give_or_log(self, interaction: discord.Interaction, action: AnyKey | None, answer: Answer) -> None:
        try:
            await self._give(interaction, action, answer)
        except Exception as error:  # noqa: BLE001 - one answer that fails must not stop the rest
            log_fault(log, f"answering {action or 'what could not be read'}", error)

    async def _give(self, interaction: discord.Interaction, action: AnyKey | None, answer: Answer) -> None:
        """Send the answer; where it does not arrive, have what depends on it put right."""
        answer = can_be_given(interaction, answer)
        outcome = await send_answer(interaction, action, answer)
        if outcome == "given":
            return
        if isinstance(answer, Replace) and interaction.message is not None:
            await not_shown(self._store, interaction.message.id)
        # One that arrived without its person is broken: nothing was done for it.
        if action is not None and outcome == "lost" and interaction.user is not discord.utils.MISSING:
            await unanswered(self._store, action, interaction.user.id, interaction.created_at)

    async def _answer(
        self,
        interaction: discord.Interaction,
        action: AnyKey | None,
        args: tuple[str, ...],
        values: tuple[str, ...],
        fields: dict[str, str],
        files: dict[str, discord.Attachment],
        turns: AsyncExitStack,
    ) -> Answer:
        known = None if action is None else action_of(action)
        if known is None:
            return Say(message=refusals.unknown_button())
        try:
            request = read_request(interaction, args, values, fields)
            uploads = bool(files) or has_uploads(interaction.data)
            if known.slow or uploads:
                await defer(interaction)
            if uploads and known.admits is not None:
                no = await refuse_files(self._store, known, request)
                if no is not None:
                    return no
                await turns.enter_async_context(self._uploads.turn(request.who))
                request = await self._downloads.fetch(interaction, request, files)
            elif known.slow and not known.writes:
                # Its answer carries files.
                await turns.enter_async_context(self._carried.turn(request.who))
            return await perform(self._store, known, request)
        except Unreadable:
            said = faults_and_restarts.command_unread()
        except StorageFault as fault:
            log.error("cannot save: %s", fault)
            said = faults_and_restarts.cannot_save()
        except Exception as error:  # noqa: BLE001 - whatever went wrong, the person is told once
            said = faults_and_restarts.fault(log_fault(log, f"dealing with {action}", error))
        return Say(message=with_written(said, fields))

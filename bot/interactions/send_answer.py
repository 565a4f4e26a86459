"""Sending the one answer to a press, form or command: what it becomes over the wire, and once more where it gets lost.

The chat library asks the platform to send each answer back and makes a whole message of it, which nobody here reads:
ours go through a call without that.
"""

import asyncio
import logging
from collections.abc import Mapping
from typing import Any, Literal

import aiohttp
import discord
from discord.http import MultipartParameters, Route
from discord.webhook.async_ import AsyncWebhookAdapter, async_context

from bot.delivery.render import message_kwargs, modal
from bot.rules.delivery.sending_limits import freely_edited
from bot.words.core import faults_and_restarts
from bot.words.core.action_keys import AnyKey
from bot.words.core.custom_ids import LIMIT
from storage.records.message import Answer, Open, Replace, Say

log = logging.getLogger(__name__)

SENDING_S = 15.0
"""So long the platform may be silent to an answer; answers carry files, and the library tries again by itself."""
TRIES = 2
"""How often an answer that gets lost on the way is sent in all."""
ANSWERED_ALREADY = 40060
Outcome = Literal["given", "answered already", "lost"]


class CallbackAdapter(AsyncWebhookAdapter):
    """The chat library's adapter for interactions, without the platform's copy of what was answered."""

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]

    async def create_interaction_response(  # type: ignore[override]
        self, interaction_id: int, token: str, *, params: MultipartParameters, **line: Any
    ) -> dict[str, Any]:
        """Send the answer; what comes back is the interaction's number alone."""
        route = Route(
            "POST", "/interactions/{webhook_id}/{webhook_token}/callback",
            webhook_id=interaction_id, webhook_token=token,
        )  # fmt: skip
        await self.request(route, payload=params.payload, files=params.files, multipart=params.multipart, **line)
        return {"interaction": {"id": interaction_id}}


_adapter = CallbackAdapter()


def answer_without_echo() -> None:
    """Have what is answered in this task go through that call."""
    async_context.set(_adapter)


def can_be_given(interaction: discord.Interaction, answer: Answer) -> Answer:
    """The answer, or in the place of a form that the platform will not open any more, or not yet, what leads to it."""
    if isinstance(answer, Open) and interaction.response.is_done():
        return Say(message=faults_and_restarts.form_late(_pressed_key(interaction)))
    if isinstance(answer, Open) and interaction.type is discord.InteractionType.modal_submit:
        # The platform opens no form in answer to a form.
        return Say(message=faults_and_restarts.form_next(_pressed_key(interaction)))
    return answer


async def send_answer(interaction: discord.Interaction, action: AnyKey | None, answer: Answer) -> Outcome:
    """Send the answer to what asked for `action`, and once more where it gets lost; what came of it."""
    answer_without_echo()
    for _ in range(TRIES):
        try:
            async with asyncio.timeout(SENDING_S):
                await _send(interaction, answer)
            return "given"
        except discord.HTTPException as late:
            # 10062 and 40060: the person waited too long, or was answered already; nothing more can be shown.
            log.warning("could not answer %s: %s (%s)", action, late.status, late.code)
            return "answered already" if late.code == ANSWERED_ALREADY else "lost"
        except (aiohttp.ClientError, OSError) as cut:
            # Silence, too: TimeoutError is an OSError.
            log.warning("could not answer %s: %s", action, type(cut).__name__)
    return "lost"


async def _send(interaction: discord.Interaction, answer: Answer) -> None:
    response = interaction.response
    if response.is_done():
        # It was told to wait (files had to be fetched): the waiting note becomes the answer.
        if isinstance(answer, Open):
            raise TypeError("a form cannot follow a waiting note")
        await interaction.edit_original_response(**message_kwargs(answer.message, editing=True))
        return
    match answer:
        case Open(form=form):
            await response.send_modal(modal(form))
        case Replace(message=message) if _is_theirs(interaction):
            await response.edit_message(**message_kwargs(message, editing=True))
        case Say(message=message, private=private):
            await response.send_message(**message_kwargs(message), ephemeral=private)
        case Replace(message=message):
            await response.send_message(**message_kwargs(message), ephemeral=True)


def _is_theirs(interaction: discord.Interaction) -> bool:
    """Whether the pressed message is seen by this person alone, and young enough to change under the press."""
    pressed = interaction.message
    if pressed is None:
        return False
    return pressed.flags.ephemeral or (
        interaction.guild_id is None and freely_edited(pressed.id, interaction.created_at)
    )


def _pressed_key(interaction: discord.Interaction) -> str | None:
    """The key of the button or form, if one of ours can carry it.

    None for a choice or a command, of which a key is only a part.
    """
    data: Mapping[str, Any] = interaction.data or {}
    pressed = data.get("component_type", discord.ComponentType.button.value) == discord.ComponentType.button.value
    made = str(data.get("custom_id", ""))
    broken = any("\ud800" <= character <= "\udfff" for character in made)
    return made if pressed and 0 < len(made) <= LIMIT and not broken else None

"""From the answer of an action to the platform's one response."""

import asyncio
import logging

import aiohttp
import discord

from bot.actions.core.fault_log import log_fault
from bot.delivery.render import message_kwargs, modal
from bot.interactions.interaction_callback import answer_without_echo
from bot.rules.core.message_age import freely_edited
from storage.records.message import Answer, Open, Replace, Say

log = logging.getLogger(__name__)

SENDING_S = 15.0
"""So long the platform may be silent to an answer; answers carry files, and the library tries again by itself."""


async def defer(interaction: discord.Interaction) -> None:
    """Tell the person to wait, unless that or the answer is out already.

    When the platform does not take it, once more, and then on all the same: whatever goes wrong here, the answer, which
    may tell of a change that is saved already, is still to be given.
    """
    answer_without_echo()
    for _ in range(2):
        if interaction.response.is_done():
            return
        try:
            async with asyncio.timeout(SENDING_S):
                await interaction.response.defer(ephemeral=True, thinking=True)
            return
        except discord.HTTPException as refused:
            log.warning("could not ask to wait: %s (%s)", refused.status, refused.code)
            if refused.status < 500:
                return
        except (aiohttp.ClientError, OSError) as cut:
            log.warning("could not ask to wait: %s", type(cut).__name__)
        except Exception as error:  # noqa: BLE001 - such as an answer of the platform's that nobody can read
            log_fault(log, "asking to wait", error)
            return


async def give(interaction: discord.Interaction, answer: Answer) -> None:
    """Give the one answer to an interaction.

    Raises:
        discord.HTTPException: the platform did not take it.
        TimeoutError: it kept silent.
    """
    answer_without_echo()
    async with asyncio.timeout(SENDING_S):
        await _give(interaction, answer)


async def _give(interaction: discord.Interaction, answer: Answer) -> None:
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

"""From the actions's answer to the platform's one response."""

import discord

from bot.delivery.render import message_kwargs, modal
from bot.rules.core.snowflakes import freely_edited
from storage.records.message import Answer, Open, Replace, Say


async def give(interaction: discord.Interaction, answer: Answer) -> None:
    """Give the one answer to an interaction.

    Raises:
        discord.HTTPException: the platform did not take it.
    """
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

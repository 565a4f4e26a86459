"""The commands about the rules: `/rules ask` and `/rules answers` for all, `/rules questions` for the coach."""

import discord
from discord import app_commands

from bot.interactions.router import InteractionRouter
from bot.words.core.action_keys import ActionKey


def commands(router: InteractionRouter) -> list[app_commands.Group]:
    """The command group `/rules`."""
    rules = app_commands.Group(name="rules", description="Questions about the rules, and the answers", guild_only=True)

    @rules.command(name="ask", description="Ask about the rules; the answer is published for everyone, without a name")
    async def ask(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.RULES_ASK)

    @rules.command(name="answers", description="Read all answers about the rules; only you see them here")
    async def answers(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.RULES_ANSWERS)

    @rules.command(name="questions", description="Answer questions, or correct an answer (coach)")
    async def questions(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.RULES_PANEL)

    return [rules]

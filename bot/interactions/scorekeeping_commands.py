"""The commands at the table: `/table open` and `/table score`."""

import discord
from discord import app_commands

from bot.interactions.router import InteractionRouter
from bot.words.core.action_keys import ActionKey


def commands(router: InteractionRouter) -> list[app_commands.Group]:
    """The command group `/table`."""
    table = app_commands.Group(name="table", description="Record attempts at the table", guild_only=True)

    @table.command(name="open", description="Open the table: pick what is measured, then the squad")
    async def open_table(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.TABLE_PANEL)

    @table.command(name="score", description="Record one attempt in one line; it is read back before it is saved")
    @app_commands.describe(
        squad="The squad's number or name",
        measure="What is measured",
        value="14, or 14 -5 with points off; 1:32.4 2 with faults; dnf; 4 for members who contributed",
    )
    async def score(
        interaction: discord.Interaction,
        squad: app_commands.Range[str, 1, 100],
        measure: app_commands.Range[str, 1, 60],
        value: app_commands.Range[str, 1, 60],
    ) -> None:
        await router.command(interaction, ActionKey.TABLE_SCORE, squad=squad, measure=measure, value=value)

    @score.autocomplete("squad")
    async def squads(interaction: discord.Interaction, typed: str) -> list[app_commands.Choice[str]]:
        return await router.suggest(interaction, ActionKey.TABLE_SUGGEST_SQUAD, typed)

    @score.autocomplete("measure")
    async def measures(interaction: discord.Interaction, typed: str) -> list[app_commands.Choice[str]]:
        return await router.suggest(interaction, ActionKey.TABLE_SUGGEST_MEASURE, typed)

    return [table]

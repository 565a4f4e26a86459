"""The commands about the result: `/results …`, for coaches."""

import discord
from discord import app_commands

from bot.interactions.router import InteractionRouter
from bot.words.core.action_keys import ActionKey


def commands(router: InteractionRouter) -> list[app_commands.Group]:
    """The command group `/results`."""
    results = app_commands.Group(name="results", description="The result, for coaches", guild_only=True)

    @results.command(
        name="preview", description="See the standings privately: who is where, what is missing, which ties"
    )
    async def preview(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.RESULTS_PANEL)

    @results.command(name="squad", description="See one squad's whole way to its total")
    @app_commands.describe(squad="The squad's number or name")
    async def squad(interaction: discord.Interaction, squad: app_commands.Range[str, 1, 100]) -> None:
        await router.command(interaction, ActionKey.RESULTS_SQUAD, squad=squad)

    @squad.autocomplete("squad")
    async def squads(interaction: discord.Interaction, typed: str) -> list[app_commands.Choice[str]]:
        return await router.suggest(interaction, ActionKey.TABLE_SUGGEST_SQUAD, typed)

    @results.command(
        name="firm", description="See how firm the place is: without a judge, a criterion, on other scales"
    )
    async def firm(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.RESULTS_FIRM)

    @results.command(name="judges", description="See whether the judges agree, and how each of them marks")
    async def judges(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.RESULTS_JUDGES, 0)

    @results.command(name="what-if", description="Try other weights, scales or judges, privately")
    async def what_if(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.RESULTS_WHAT_IF)

    @results.command(name="announce", description="See what would be announced; nothing is said before you confirm it")
    async def announce(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.RESULTS_ANNOUNCE)

    @results.command(
        name="take-back", description="Take the announcement back, with a reason, when a protest was right"
    )
    async def take_back(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.RESULTS_ASK_BACK)

    @results.command(name="offer", description="Offer the place, and see who has answered")
    async def offer(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.OFFER_PANEL)

    @results.command(name="feedback", description="Read, edit and send each squad's feedback")
    async def feedback(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.FEEDBACK_PANEL)

    return [results]

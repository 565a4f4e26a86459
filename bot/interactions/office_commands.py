"""The coach's commands: `/office`, which leads to everything, and `/plan …` for plan files; and `/brief` for all."""

from typing import Any

import discord
from discord import app_commands

from bot.interactions.router import InteractionRouter
from bot.words.core.action_keys import ActionKey

PARTS = {
    "the office itself": ActionKey.OFFICE,
    "plan": "plan.panel",
    "dates": "plan.dates",
    "set-up": "setup.panel",
    "people": "people.panel",
    "judges": "judges.panel",
    "table": "table.panel",
    "practice": "practice.panel",
    "the surprise": "surprise.ask",
    "results": "results.panel",
    "questions about the rules": "rules.panel",
}
"""Where `/office` can lead at once, by what is offered."""


def commands(router: InteractionRouter) -> list[app_commands.Group | app_commands.Command[Any, ..., None]]:
    """The commands `/office` and `/brief`, and the group `/plan`."""

    @app_commands.command(name="office", description="The coach's office: where the try-out stands, and the next step")
    @app_commands.describe(part="Go to one part at once")
    @app_commands.choices(part=[app_commands.Choice(name=name, value=action) for name, action in PARTS.items()])
    @app_commands.guild_only()
    async def office(interaction: discord.Interaction, part: app_commands.Choice[str] | None = None) -> None:
        await router.command(interaction, ActionKey(part.value) if part else ActionKey.OFFICE)

    @app_commands.command(name="brief", description="Read the brief: what your squad must do, and by when")
    @app_commands.guild_only()
    async def brief(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.BRIEF_OPEN)

    return [office, brief, _plan(router)]


def _plan(router: InteractionRouter) -> app_commands.Group:
    plan = app_commands.Group(name="plan", description="The plan of the try-out (coach)", guild_only=True)

    @plan.command(name="use", description="Use a plan file: all its mistakes are listed at once")
    @app_commands.describe(file="The plan as a TOML file", reason="Once the brief is out: why the plan changes")
    async def use(
        interaction: discord.Interaction,
        file: discord.Attachment,
        reason: app_commands.Range[str, 3, 200] | None = None,
    ) -> None:
        fields = {} if reason is None else {"reason": str(reason)}
        await router.deal(interaction, ActionKey.PLAN_USE, fields=fields, files={"plan": file})

    @plan.command(name="show", description="Read the whole plan, and get it as a file")
    async def show(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.PLAN_SHOW)

    @plan.command(name="change", description="Change the plan; after the brief only with a reason")
    async def change(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.PLAN_PANEL)

    @plan.command(name="calendar", description="Get the dates as a file for your own calendar")
    async def calendar(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.PLAN_CALENDAR)

    @plan.command(name="begin", description="Begin a try-out with the built-in plan")
    async def begin(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.PLAN_BEGIN)

    @plan.command(name="reuse", description="Begin a try-out with last year's plan and a new date")
    async def reuse(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.PLAN_AGAIN)

    return plan

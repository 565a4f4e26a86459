"""Inbound: what people press, fill and type, one file per activity."""

from discord import app_commands

from bot.interactions import (
    judging_commands,
    office_commands,
    question_commands,
    results_commands,
    scorekeeping_commands,
    squad_commands,
)
from bot.interactions.router import InteractionRouter

ACTIVITIES = (
    squad_commands,
    question_commands,
    office_commands,
    scorekeeping_commands,
    judging_commands,
    results_commands,
)


def every_command(
    router: InteractionRouter,
) -> list[app_commands.Group | app_commands.Command[app_commands.Group, ..., None]]:
    """The slash commands of all activities."""
    return [command for activity in ACTIVITIES for command in activity.commands(router)]

"""Inbound: what people press, fill and type, one file per activity."""

from discord import app_commands

from bot.desk import judging, office, results, rules, signup, table
from bot.desk.door import Door

ACTIVITIES = (signup, rules, office, table, judging, results)


def every_command(door: Door) -> list[app_commands.Group | app_commands.Command[app_commands.Group, ..., None]]:
    """The slash commands of all activities."""
    return [command for activity in ACTIVITIES for command in activity.commands(door)]

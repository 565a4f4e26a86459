"""All slash commands in one table: what can be typed, which action it asks for, and for whom it is meant.

There are few of them, because everything can be done with buttons: from the sign-up message, from a judge's list and
from the office. What an action may do is checked at the action, whoever types; the audience only decides who is shown
the command.
"""

from dataclasses import dataclass
from typing import Any, Literal

import discord
from discord import app_commands

from bot.interactions.router import InteractionRouter
from bot.interactions.slash_command_options import (
    Options,
    join_code,
    nothing,
    one_attempt,
    one_of_us,
    one_squad,
    own_part,
    part_of_office,
    plan_file,
)
from bot.words.core import slash_command_texts
from bot.words.core.action_keys import ActionKey

Audience = Literal["everyone", "judges", "managers"]
"""Who is shown a command before an administrator of the class server has said otherwise.

Everyone on the class server; in private messages with the bot, where only judges write to it; those who manage the
class server. The platform knows no scorekeepers: they find the table under *My squad*.
"""
AnyCommand = app_commands.Command[Any, ..., None]


@dataclass(frozen=True)
class Command:
    """One command: `/name`."""

    name: str
    audience: Audience
    action: ActionKey
    options: Options = nothing


COMMANDS = (
    Command("my-squad", "everyone", ActionKey.SQUAD_MINE),
    Command("sign-up", "everyone", ActionKey.SQUAD_LIST, join_code),
    Command("brief", "everyone", ActionKey.BRIEF_OPEN),
    Command("hand-in", "everyone", ActionKey.HAND_IN_ADD, own_part),
    Command("book", "everyone", ActionKey.PRACTICE_MINE),
    Command("ask", "everyone", ActionKey.RULES_ASK),
    Command("answers", "everyone", ActionKey.RULES_ANSWERS),
    Command("sheets", "judges", ActionKey.SHEETS_LIST),
    Command("table", "managers", ActionKey.TABLE_PANEL),
    Command("score", "managers", ActionKey.TABLE_SCORE, one_attempt),
    Command("office", "managers", ActionKey.OFFICE, part_of_office),
    Command("plan", "managers", ActionKey.PLAN_PANEL, plan_file),
    Command("people", "managers", ActionKey.PEOPLE_PANEL, one_of_us),
    Command("questions", "managers", ActionKey.RULES_PANEL),
    Command("judges", "managers", ActionKey.JUDGES_PANEL),
    Command("paper", "managers", ActionKey.PAPER_PANEL),
    Command("results", "managers", ActionKey.RESULTS_PANEL),
    Command("why", "managers", ActionKey.RESULTS_SQUAD, one_squad),
)


def every_command(router: InteractionRouter) -> list[AnyCommand]:
    """The slash commands as the chat library knows them, each asking the router for its action."""
    return [_command(router, one) for one in COMMANDS]


def _command(router: InteractionRouter, one: Command) -> AnyCommand:
    private = one.audience == "judges"
    command: AnyCommand = app_commands.Command(
        name=one.name,
        description=slash_command_texts.COMMANDS[one.name],
        callback=one.options(router, one.action),
        allowed_contexts=app_commands.AppCommandContext(guild=not private, dm_channel=private, private_channel=False),
    )
    if one.audience == "managers":
        command.default_permissions = discord.Permissions(manage_guild=True)
    return command

"""All slash commands in one table: what can be typed, which action it asks for, and for whom it is meant.

What an action may do is checked at the action, whoever types; the audience only decides who is shown the command.
"""

from dataclasses import dataclass
from typing import Any, Literal

import discord
from discord import app_commands

from bot.interactions.command_options import (
    Options,
    join_code,
    large_print,
    nothing,
    one_attempt,
    one_squad,
    own_part,
    part_of_office,
    person,
    plan_file,
)
from bot.interactions.router import InteractionRouter
from bot.words.core.action_keys import ActionKey

Audience = Literal["everyone", "managers"]
"""Who is shown a command before an administrator of the class server has said otherwise."""
AnyCommand = app_commands.Group | app_commands.Command[Any, ..., None]


@dataclass(frozen=True)
class Group:
    """The first word of commands."""

    description: str
    audience: Audience = "everyone"
    in_direct_messages: bool = False
    """Whether they can be typed in a direct message, too."""


@dataclass(frozen=True)
class Command:
    """One command: `/group name`, or `/name` where there is no group."""

    group: str
    name: str
    action: ActionKey
    description: str
    options: Options = nothing
    audience: Audience = "everyone"
    """Of a command without a group; the platform takes a group's commands together."""


GROUPS = {
    "squad": Group("Your squad in the try-out"),
    "rules": Group("Questions about the rules, and the answers"),
    "plan": Group("The plan of the try-out (coach)", "managers"),
    "table": Group("Record attempts at the table"),
    "judge": Group("Your score sheets, if you are a judge", in_direct_messages=True),
    "judges": Group("Who judges (coach)", "managers"),
    "judging": Group("Judging as a whole (coach)"),
    "results": Group("The result, for coaches", "managers"),
}
"""`/judging` is shown to everyone for the sake of those who type in paper sheets."""

COMMANDS = (
    Command("squad", "start", ActionKey.SQUAD_START, "Start a squad of your own"),
    Command("squad", "join", ActionKey.SQUAD_LIST, "Join a squad of your section, or type its join code", join_code),
    Command("squad", "looking", ActionKey.SQUAD_LOOKING, "Show on the board that you need a squad"),
    Command("squad", "mine", ActionKey.SQUAD_MINE, "See your squad: what is left to do, turns, room; leave, rename"),
    Command("squad", "leave", ActionKey.SQUAD_LEAVE, "Leave your squad; you are asked once more"),
    Command("squad", "rename", ActionKey.SQUAD_RENAME, "Give your squad another name (captain)"),
    Command("squad", "captain", ActionKey.SQUAD_CAPTAIN, "Make another member captain (captain)"),
    Command("squad", "remove", ActionKey.SQUAD_REMOVE, "Remove a member (captain)"),
    Command("squad", "hand-in", ActionKey.HAND_IN_ADD, "Add or change your part of your squad's hand-in", own_part),
    Command(
        "squad",
        "parts",
        ActionKey.HAND_IN_PARTS,
        "Read what your squad has handed in; change or delete your part",
    ),
    Command(
        "squad",
        "practice",
        ActionKey.PRACTICE_MINE,
        "See your squad's turns at the practice table; book one, give one back",
    ),
    Command(
        "rules", "ask", ActionKey.RULES_ASK, "Ask about the rules; the answer is published for everyone, without a name"
    ),
    Command("rules", "answers", ActionKey.RULES_ANSWERS, "Read all answers about the rules; only you see them here"),
    Command("rules", "questions", ActionKey.RULES_PANEL, "Answer questions, or correct an answer (coach)"),
    Command(
        "",
        "office",
        ActionKey.OFFICE,
        "The coach's office: where the try-out stands, and the next step",
        part_of_office,
        "managers",
    ),
    Command("", "brief", ActionKey.BRIEF_OPEN, "Read the brief: what your squad must do, and by when"),
    Command("plan", "use", ActionKey.PLAN_USE, "Use a plan file: all its mistakes are listed at once", plan_file),
    Command("plan", "show", ActionKey.PLAN_SHOW, "Read the whole plan, and get it as a file"),
    Command("plan", "change", ActionKey.PLAN_PANEL, "Change the plan; after the brief only with a reason"),
    Command("plan", "calendar", ActionKey.PLAN_CALENDAR, "Get the dates as a file for your own calendar"),
    Command("plan", "begin", ActionKey.PLAN_BEGIN, "Begin a try-out with the built-in plan"),
    Command("plan", "reuse", ActionKey.PLAN_AGAIN, "Begin a try-out with last year's plan and a new date"),
    Command("table", "open", ActionKey.TABLE_PANEL, "Open the table: pick what is measured, then the squad"),
    Command(
        "table",
        "score",
        ActionKey.TABLE_SCORE,
        "Record one attempt in one line; it is read back before it is saved",
        one_attempt,
    ),
    Command("judge", "start", ActionKey.SHEETS_START, "Agree to judge and get your score sheets as private messages"),
    Command("judge", "sheets", ActionKey.SHEETS_LIST, "Show your score sheets here; only you see them"),
    Command("judge", "next", ActionKey.SHEETS_MARK, "Open the next score sheet"),
    Command("judge", "paper", ActionKey.SHEETS_PAPER, "Print your score sheets, also in large print", large_print),
    Command(
        "judge", "tie", ActionKey.SHEETS_TIE, "Say that you know someone in a squad, so that another judge marks it"
    ),
    Command("judges", "list", ActionKey.JUDGES_PANEL, "Show the judges and all of judging"),
    Command("judges", "add", ActionKey.JUDGES_ADD, "Ask someone to judge", person("Who shall judge")),
    Command(
        "judges",
        "remove",
        ActionKey.JUDGES_REMOVE,
        "Remove a judge; you are asked once more",
        person("Who shall not judge any more"),
    ),
    Command(
        "judges",
        "advisory",
        ActionKey.JUDGES_ADVISORY,
        "Let a judge's marks be shown only, or count again",
        person("The judge"),
    ),
    Command("judges", "ask", ActionKey.JUDGES_ASK, "Ask a judge who has not answered once more", person("The judge")),
    Command("judging", "open", ActionKey.JUDGING_PICK_EVENT, "Open an event for judging"),
    Command("judging", "status", ActionKey.JUDGING_STATUS, "Who owes which score sheets"),
    Command(
        "judging", "gaps", ActionKey.JUDGING_GAPS, "Where judges of one squad are far apart, and ask them to look again"
    ),
    Command("judging", "close", ActionKey.JUDGING_CLOSE, "Close judging; what is missing is named first"),
    Command("judging", "again", ActionKey.JUDGING_RESUME, "Open judging again after it was closed"),
    Command(
        "judging",
        "reopen",
        ActionKey.JUDGING_PICK_SHEET,
        "After the close: open one score sheet again, with a reason",
        person("The judge whose sheet it is"),
    ),
    Command("judging", "panels", ActionKey.PANELS_PANEL, "Who sees whom: share the judges out, or set them by hand"),
    Command(
        "judging", "paper", ActionKey.PAPER_PANEL, "Print score sheets, or type in sheets that were filled on paper"
    ),
    Command("judging", "type-in", ActionKey.PAPER_ENTER, "Type in paper sheets, twice, and compare (also typists)"),
    Command(
        "judging", "trial", ActionKey.TRIALS_PANEL, "All judges mark one invented entry first, and see how they compare"
    ),
    Command("judging", "ties", ActionKey.TIES_PANEL, "Which judge knows someone in which squad"),
    Command(
        "results",
        "preview",
        ActionKey.RESULTS_PANEL,
        "See the standings privately: who is where, what is missing, which ties",
    ),
    Command("results", "squad", ActionKey.RESULTS_SQUAD, "See one squad's whole way to its total", one_squad),
    Command(
        "results",
        "firm",
        ActionKey.RESULTS_FIRM,
        "See how firm the place is: without a judge, a criterion, on other scales",
    ),
    Command("results", "judges", ActionKey.RESULTS_JUDGES, "See whether the judges agree, and how each of them marks"),
    Command("results", "what-if", ActionKey.RESULTS_WHAT_IF, "Try other weights, scales or judges, privately"),
    Command(
        "results",
        "announce",
        ActionKey.RESULTS_ANNOUNCE,
        "See what would be announced; nothing is said before you confirm it",
    ),
    Command(
        "results",
        "take-back",
        ActionKey.RESULTS_ASK_BACK,
        "Take the announcement back, with a reason, when a protest was right",
    ),
    Command("results", "offer", ActionKey.OFFER_PANEL, "Offer the place, and see who has answered"),
    Command("results", "feedback", ActionKey.FEEDBACK_PANEL, "Read, edit and send each squad's feedback"),
)


def every_command(router: InteractionRouter) -> list[AnyCommand]:
    """The slash commands as the chat library knows them, each asking the router for its action."""
    groups = {name: _group(name, group) for name, group in GROUPS.items()}
    alone = []
    for one in COMMANDS:
        command: app_commands.Command[Any, ..., None] = app_commands.Command(
            name=one.name, description=one.description, callback=one.options(router, one.action)
        )
        if one.group:
            groups[one.group].add_command(command)
        else:
            command.guild_only = True
            command.default_permissions = _shown_to(one.audience)
            alone.append(command)
    return [*groups.values(), *alone]


def _group(name: str, group: Group) -> app_commands.Group:
    return app_commands.Group(
        name=name,
        description=group.description,
        guild_only=not group.in_direct_messages,
        default_permissions=_shown_to(group.audience),
    )


def _shown_to(audience: Audience) -> discord.Permissions | None:
    return discord.Permissions(manage_guild=True) if audience == "managers" else None

"""The commands around judging: `/judge …` for judges, `/judges …` and `/judging …` for the coach."""

import discord
from discord import app_commands

from bot.interactions.router import InteractionRouter
from bot.words.core.action_keys import ActionKey


def commands(router: InteractionRouter) -> list[app_commands.Group]:
    """The command groups of judging."""
    return [_judge(router), _judges(router), _judging(router)]


def _judge(router: InteractionRouter) -> app_commands.Group:
    judge = app_commands.Group(name="judge", description="Your score sheets, if you are a judge")

    @judge.command(name="start", description="Agree to judge and get your score sheets as private messages")
    async def start(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SHEETS_START)

    @judge.command(name="sheets", description="Show your score sheets here; only you see them")
    async def sheets(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SHEETS_LIST)

    @judge.command(name="next", description="Open the next score sheet")
    async def following(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SHEETS_MARK)

    @judge.command(name="paper", description="Print your score sheets, also in large print")
    @app_commands.describe(large="In large print")
    async def paper(interaction: discord.Interaction, large: bool = False) -> None:
        await router.command(interaction, ActionKey.SHEETS_PAPER, large=large)

    @judge.command(name="tie", description="Say that you know someone in a squad, so that another judge marks it")
    async def tie(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SHEETS_TIE)

    return judge


def _judges(router: InteractionRouter) -> app_commands.Group:
    judges = app_commands.Group(name="judges", description="Who judges (coach)", guild_only=True)

    @judges.command(name="list", description="Show the judges and all of judging")
    async def panel(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.JUDGES_PANEL)

    @judges.command(name="add", description="Ask someone to judge")
    @app_commands.describe(person="Who shall judge")
    async def add(interaction: discord.Interaction, person: discord.User) -> None:
        await router.command(interaction, ActionKey.JUDGES_ADD, person=person.id)

    @judges.command(name="remove", description="Remove a judge; you are asked once more")
    @app_commands.describe(person="Who shall not judge any more")
    async def remove(interaction: discord.Interaction, person: discord.User) -> None:
        await router.command(interaction, ActionKey.JUDGES_REMOVE, person=person.id)

    @judges.command(name="advisory", description="Let a judge's marks be shown only, or count again")
    @app_commands.describe(person="The judge")
    async def advisory(interaction: discord.Interaction, person: discord.User) -> None:
        await router.command(interaction, ActionKey.JUDGES_ADVISORY, person=person.id)

    @judges.command(name="ask", description="Ask a judge who has not answered once more")
    @app_commands.describe(person="The judge")
    async def ask(interaction: discord.Interaction, person: discord.User) -> None:
        await router.command(interaction, ActionKey.JUDGES_ASK, person=person.id)

    return judges


def _judging(router: InteractionRouter) -> app_commands.Group:
    judging = app_commands.Group(name="judging", description="Judging as a whole (coach)", guild_only=True)

    @judging.command(name="open", description="Open an event for judging")
    async def open_event(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.JUDGING_PICK_EVENT)

    @judging.command(name="status", description="Who owes which score sheets")
    async def status(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.JUDGING_STATUS)

    @judging.command(name="gaps", description="Where judges of one squad are far apart, and ask them to look again")
    async def gaps(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.JUDGING_GAPS)

    @judging.command(name="close", description="Close judging; what is missing is named first")
    async def close(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.JUDGING_CLOSE)

    @judging.command(name="again", description="Open judging again after it was closed")
    async def again(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.JUDGING_RESUME)

    @judging.command(name="reopen", description="After the close: open one score sheet again, with a reason")
    @app_commands.describe(person="The judge whose sheet it is")
    async def reopen(interaction: discord.Interaction, person: discord.User) -> None:
        await router.command(interaction, ActionKey.JUDGING_PICK_SHEET, person=person.id)

    @judging.command(name="panels", description="Who sees whom: share the judges out, or set them by hand")
    async def panels(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.PANELS_PANEL)

    @judging.command(name="paper", description="Print score sheets, or type in sheets that were filled on paper")
    async def paper(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.PAPER_PANEL)

    @judging.command(name="type-in", description="Type in paper sheets, twice, and compare (also scorekeepers)")
    async def type_in(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.PAPER_ENTER)

    @judging.command(name="trial", description="All judges mark one invented entry first, and see how they compare")
    async def trial(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.TRIALS_PANEL)

    @judging.command(name="ties", description="Which judge knows someone in which squad")
    async def ties(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.TIES_PANEL)

    return judging

"""The commands of students: `/squad …` does what the buttons of the sign-up message do."""

import discord
from discord import app_commands

from bot.interactions.router import InteractionRouter
from bot.rules.hand_in.parts import LONGEST, SHORTEST
from bot.words.core.action_keys import ActionKey


def commands(router: InteractionRouter) -> list[app_commands.Group]:
    """The command group `/squad`."""
    squad = app_commands.Group(name="squad", description="Your squad in the try-out", guild_only=True)

    @squad.command(name="start", description="Start a squad of your own")
    async def start(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SQUAD_START)

    @squad.command(name="join", description="Join a squad of your section, or type its join code")
    @app_commands.describe(code="The five letters the captain read out, if you have them")
    async def join(interaction: discord.Interaction, code: app_commands.Range[str, 5, 12] | None = None) -> None:
        if code is None:
            await router.command(interaction, ActionKey.SQUAD_LIST)
        else:
            await router.command(interaction, ActionKey.SQUAD_JOIN_BY_CODE, code=code)

    @squad.command(name="looking", description="Show on the board that you are looking for a squad")
    async def looking(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SQUAD_LOOKING)

    @squad.command(name="mine", description="See your squad: leave, rename, hand over, remove a member")
    async def mine(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SQUAD_MINE)

    @squad.command(name="leave", description="Leave your squad; you are asked once more")
    async def leave(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SQUAD_LEAVE)

    @squad.command(name="rename", description="Give your squad another name (captain)")
    async def rename(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SQUAD_RENAME)

    @squad.command(name="captain", description="Hand the captaincy to another member (captain)")
    async def captain(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SQUAD_CAPTAIN)

    @squad.command(name="remove", description="Remove a member (captain)")
    async def remove(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.SQUAD_REMOVE)

    @squad.command(name="hand-in", description="Add or change your part of your squad's hand-in")
    @app_commands.describe(
        why="What is your part, and why? Without it, a form opens", photo="A photo of it: PNG or JPEG, no people on it"
    )
    async def hand_in(
        interaction: discord.Interaction,
        why: app_commands.Range[str, SHORTEST, LONGEST] | None = None,
        photo: discord.Attachment | None = None,
    ) -> None:
        if why is None and photo is None:
            await router.command(interaction, ActionKey.HAND_IN_ADD)
        else:
            fields = {} if why is None else {"why": str(why)}
            await router.deal(
                interaction, ActionKey.HAND_IN_SAVE, fields=fields, files={"photo": photo} if photo else {}
            )

    @squad.command(name="parts", description="Read what your squad has handed in; change your part or take it back")
    async def parts(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.HAND_IN_PARTS)

    @squad.command(name="practice", description="See your squad's turns at the practice table; book one, give one back")
    async def practice(interaction: discord.Interaction) -> None:
        await router.command(interaction, ActionKey.PRACTICE_MINE)

    return [squad]

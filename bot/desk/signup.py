"""The commands of students: `/squad …` does what the buttons of the sign-up message do."""

import discord
from discord import app_commands

from bot.desk.door import Door


def commands(door: Door) -> list[app_commands.Group]:
    """The command group `/squad`."""
    squad = app_commands.Group(name="squad", description="Your squad in the try-out", guild_only=True)

    @squad.command(name="start", description="Start a squad of your own")
    async def start(interaction: discord.Interaction) -> None:
        await door.command(interaction, "squad.start")

    @squad.command(name="join", description="Join a squad of your section, or type its join code")
    @app_commands.describe(code="The five letters the captain read out, if you have them")
    async def join(interaction: discord.Interaction, code: app_commands.Range[str, 5, 12] | None = None) -> None:
        if code is None:
            await door.command(interaction, "squad.list")
        else:
            await door.command(interaction, "squad.join-by-code", code=code)

    @squad.command(name="looking", description="Show on the board that you are looking for a squad")
    async def looking(interaction: discord.Interaction) -> None:
        await door.command(interaction, "squad.looking")

    @squad.command(name="mine", description="See your squad: leave, rename, hand over, remove a member")
    async def mine(interaction: discord.Interaction) -> None:
        await door.command(interaction, "squad.mine")

    @squad.command(name="leave", description="Leave your squad; you are asked once more")
    async def leave(interaction: discord.Interaction) -> None:
        await door.command(interaction, "squad.leave")

    @squad.command(name="rename", description="Give your squad another name (captain)")
    async def rename(interaction: discord.Interaction) -> None:
        await door.command(interaction, "squad.rename")

    @squad.command(name="captain", description="Hand the captaincy to another member (captain)")
    async def captain(interaction: discord.Interaction) -> None:
        await door.command(interaction, "squad.captain")

    @squad.command(name="remove", description="Remove a member (captain)")
    async def remove(interaction: discord.Interaction) -> None:
        await door.command(interaction, "squad.remove")

    return [squad]

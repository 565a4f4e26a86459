"""The least a client of the chat library can be: it is on line, and answers every press at once.

Beside it the bot is measured; what both need is the library's own, and the loopback server's.
"""

import os

import discord
from yarl import URL


class BareClient(discord.Client):
    """Posts one button; answers its press with a form, and anything else with two words; keeps nothing."""

    async def on_ready(self) -> None:
        """Post the button in the first channel."""
        view = discord.ui.View(timeout=None)
        view.add_item(discord.ui.Button(label="Start a squad", custom_id="start"))
        await self.guilds[0].text_channels[0].send("Sign up here", view=view)

    async def on_interaction(self, interaction: discord.Interaction) -> None:
        """Answer at once."""
        if interaction.type is discord.InteractionType.component:
            await interaction.response.send_modal(SquadForm())
        else:
            await interaction.response.send_message("Got it.", ephemeral=True)


class SquadForm(discord.ui.Modal, title="Start a squad"):
    """A form like the bot's; its answer is left to `on_interaction`, which has it too."""

    squad: discord.ui.TextInput["SquadForm"] = discord.ui.TextInput(label="Name of your squad", custom_id="squad")


def main() -> None:
    """Run until told to stop."""
    discord.http.Route.BASE = os.environ["TENBELL_API"]
    discord.gateway.DiscordWebSocket.DEFAULT_GATEWAY = URL(os.environ["BARE_GATEWAY"])
    client = BareClient(intents=discord.Intents(guilds=True, dm_messages=True))
    client.run(os.environ["TENBELL_TOKEN"], log_handler=None)


if __name__ == "__main__":
    main()

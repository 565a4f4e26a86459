"""A second, independent client library finds the same class server, so that it is not tuned to one."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from typing import TYPE_CHECKING

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import until

if TYPE_CHECKING:
    # Late: every worker reads this file, and one runs it.
    import hikari


@pytest.fixture
async def other(server: ClassServer) -> AsyncIterator[hikari.GatewayBot]:
    import hikari

    bot = hikari.GatewayBot(
        server.token,
        rest_url=server.api,
        intents=hikari.Intents.GUILDS,
        auto_chunk_members=False,
        banner=None,
        logs=None,
    )

    @bot.listen(hikari.CommandInteractionCreateEvent)
    async def answer(event: hikari.CommandInteractionCreateEvent) -> None:
        options = event.interaction.options or []
        text = f"{event.interaction.command_name} {[option.value for option in options]}"
        await event.interaction.create_initial_response(hikari.ResponseType.MESSAGE_CREATE, text, flags=64)

    @bot.listen(hikari.ComponentInteractionCreateEvent)
    async def pressed(event: hikari.ComponentInteractionCreateEvent) -> None:
        text = f"{event.interaction.custom_id} on {event.interaction.message.content}"
        await event.interaction.create_initial_response(hikari.ResponseType.MESSAGE_CREATE, text, flags=64)

    await bot.start(check_for_updates=False)
    await asyncio.wait_for(server.gateway.identified.wait(), 60)
    await until(lambda: bot.cache.get_guild(server.world.guild_id) is not None)
    yield bot
    await bot.close()
    assert server.request_log.violations == []


async def test_the_second_library_sees_the_guild(server: ClassServer, other: hikari.GatewayBot) -> None:
    guild = other.cache.get_guild(server.world.guild_id)
    assert guild is not None
    assert guild.name == "Quillmere robot club"
    assert {channel.name for channel in guild.get_channels().values()} == {"sign-up", "news"}
    assert list(guild.get_members()) == [server.world.bot.id]
    member = await other.rest.fetch_member(guild.id, server.world.person("Ada Quill").id)
    assert member.display_name == "Ada Quill"


async def test_the_second_library_answers_a_command_and_a_button(server: ClassServer, other: hikari.GatewayBot) -> None:
    import hikari

    command = other.rest.slash_command_builder("join", "Join a squad").add_option(
        hikari.CommandOption(type=hikari.OptionType.STRING, name="code", description="The code", is_required=True)
    )
    await other.rest.set_application_commands(server.world.application_id, [command])
    ada = Phone(server, "Ada Quill")
    assert (await ada.command("/join", {"code": "K7"}, room="sign-up")).text == "join ['K7']"
    row = other.rest.build_message_action_row()
    row.add_interactive_button(hikari.ButtonStyle.PRIMARY, "go:1", label="Go")
    await other.rest.create_message(server.world.room("sign-up").id, "Panel", component=row)
    outcome = await ada.press(ada.with_button("sign-up", "Go"), "Go")
    assert (outcome.kind, outcome.text) == ("private answer", "go:1 on Panel")


async def test_the_second_library_reads_the_refusals(server: ClassServer, other: hikari.GatewayBot) -> None:
    import hikari

    room = server.world.room("sign-up").id
    with pytest.raises(hikari.BadRequestError, match="2000 or fewer"):
        await other.rest.create_message(room, "x" * 2001)
    with pytest.raises(hikari.NotFoundError):
        await other.rest.fetch_message(room, 1)
    server.request_log.violations.clear()

"""The chat library as released: the class server takes what it sends, and it can read what it is sent."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from io import BytesIO
from typing import Any

import discord
import pytest
import yarl
from discord import app_commands, ui

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import together
from deploy.rehearsal.server.class_server import ClassServer


class Sheet(ui.Modal, title="A sheet"):
    """A form with every kind of input the library has."""

    def __init__(self, number: int) -> None:
        super().__init__(custom_id=f"sheet:{number}", timeout=60)
        levels = [discord.RadioGroupOption(label=f"Level {n}", value=str(n), description="d") for n in range(4)]
        boxes = [discord.CheckboxGroupOption(label=f"Box {n}", value=str(n)) for n in range(3)]
        self.level: ui.RadioGroup[Any] = ui.RadioGroup(options=levels)
        self.boxes: ui.CheckboxGroup[Any] = ui.CheckboxGroup(options=boxes, required=False, min_values=0)
        self.comment: ui.TextInput[Any] = ui.TextInput(style=discord.TextStyle.paragraph, required=False)
        self.file: ui.FileUpload[Any] = ui.FileUpload(required=False)
        self.friend: ui.UserSelect[Any] = ui.UserSelect(required=False)
        for text, item in (
            ("Level", self.level),
            ("Boxes", self.boxes),
            ("Comment", self.comment),
            ("File", self.file),
            ("Friend", self.friend),
        ):
            self.add_item(ui.Label(text=text, component=item))

    async def on_submit(self, interaction: discord.Interaction, /) -> None:
        files = [await file.read() for file in self.file.values]
        friends = [friend.display_name for friend in self.friend.values]
        said = f"{self.level.value} {self.boxes.values} {self.comment.value} {files} {friends}"
        await interaction.response.send_message(said, ephemeral=True)


class Do(ui.DynamicItem[ui.Button[Any]], template=r"do:(?P<what>\w+)"):
    """A button that carries what it means in its id."""

    def __init__(self, what: str) -> None:
        super().__init__(ui.Button(label=what, custom_id=f"do:{what}"))
        self.what = what

    @classmethod
    async def from_custom_id(cls, interaction: Any, item: Any, match: Any, /) -> Do:
        return cls(match["what"])

    async def callback(self, interaction: discord.Interaction[Any]) -> None:
        response = interaction.response
        if self.what == "say":
            name = interaction.user.display_name
            await response.send_message(f"for {name}", ephemeral=True, allowed_mentions=discord.AllowedMentions.none())
        elif self.what == "form":
            await response.send_modal(Sheet(interaction.id))
        elif self.what == "later":
            await response.defer(ephemeral=True, thinking=True)
            await interaction.followup.send("and here it is", ephemeral=True)
        else:
            await response.edit_message(content="changed", view=None)


class SmallBot(discord.Client):
    """A bot of the test's own."""

    def __init__(self) -> None:
        intents = discord.Intents(guilds=True, dm_messages=True)
        super().__init__(intents=intents, allowed_mentions=discord.AllowedMentions.none(), guild_ready_timeout=0.1)
        self.tree = app_commands.CommandTree(self)
        self.came_up = asyncio.Event()
        group = app_commands.Group(name="squad", description="Squads", guild_only=True)

        @group.command(name="start", description="Start a squad")
        async def start(
            interaction: discord.Interaction[Any],
            name: app_commands.Range[str, 2, 40],
            friend: discord.Member | None = None,
            plan: discord.Attachment | None = None,
        ) -> None:
            read = await plan.read() if plan else b""
            who = friend.display_name if friend else "nobody"
            await interaction.response.send_message(f"{name} with {who} {read!r}", ephemeral=True)

        @group.command(name="join", description="Join a squad")
        async def join(interaction: discord.Interaction[Any], squad: str) -> None:
            await interaction.response.send_message(squad)

        @join.autocomplete("squad")
        async def suggest(_: discord.Interaction[Any], typed: str) -> list[app_commands.Choice[str]]:
            return [app_commands.Choice(name=f"{typed}oles", value="1")]

        self.tree.add_command(group)

    async def setup_hook(self) -> None:
        self.add_dynamic_items(Do)
        await self.tree.sync()

    async def on_ready(self) -> None:
        self.came_up.set()

    async def on_message(self, message: discord.Message) -> None:
        if message.guild is None and not message.author.bot:
            await message.channel.send(f"heard: {message.content}")


@pytest.fixture
async def client(server: ClassServer, monkeypatch: pytest.MonkeyPatch) -> AsyncIterator[SmallBot]:
    monkeypatch.setattr(discord.http.Route, "BASE", server.api)
    address = yarl.URL(f"ws://127.0.0.1:{server.port}/gateway")
    monkeypatch.setattr(discord.gateway.DiscordWebSocket, "DEFAULT_GATEWAY", address)
    bot = SmallBot()
    task = asyncio.create_task(bot.start(server.token))
    await asyncio.wait_for(bot.came_up.wait(), 60)
    channel = bot.get_channel(server.world.room("sign-up").id)
    assert isinstance(channel, discord.TextChannel)
    view = ui.View(timeout=None)
    for what in ("say", "form", "later", "change"):
        view.add_item(Do(what))
    picture = discord.File(BytesIO(b"\x89PNG\r\n\x1a\n"), "board.png", description="The board")
    message = await channel.send("**Panel** <t:1800000000:R>", view=view, file=picture)
    await message.pin()
    yield bot
    await bot.close()
    await asyncio.gather(task, return_exceptions=True)
    assert server.request_log.violations == []


async def test_buttons_forms_and_deferred_answers_work_end_to_end(server: ClassServer, client: SmallBot) -> None:
    ada = Phone(server, "Ada Quill")
    shown = ada.with_button("sign-up", "say")
    assert shown.pinned
    assert shown.files[0].description == "The board"
    assert (await ada.press(shown, "say")).text == "for Ada Quill"
    assert (await ada.press(shown, "later")).text == "and here it is"
    sheet = (await ada.press(shown, "form")).opened()
    filled = {
        "Level": "Level 3",
        "Boxes": ["Box 0", "Box 2"],
        "Comment": "good\nwork",
        "File": ("a.txt", b"x"),
        "Friend": "Ben Marrow",
    }
    answer = await ada.fill(sheet, filled)
    assert answer.text == "3 ['0', '2'] good\nwork [b'x'] ['Ben Marrow']"
    sheet = (await ada.press(shown, "form")).opened()
    assert (await ada.fill(sheet, {"Level": "Level 0"})).text == "0 []  [] []"
    assert (await ada.press(shown, "change")).kind == "update"
    now = ada.look(shown)
    assert now is not None
    assert (now.text, now.labels) == ("changed", ())
    assert (await ada.press(shown, "say")).text == "for Ada Quill", "the old buttons still work on an old screen"


async def test_two_people_with_the_same_form_open_do_not_disturb_each_other(
    server: ClassServer, client: SmallBot
) -> None:
    phones = [Phone(server, "Ada Quill"), Phone(server, "Ben Marrow")]
    shown = phones[0].with_button("sign-up", "form")
    sheets = [outcome.opened() for outcome in await together(*(phone.press(shown, "form") for phone in phones))]
    acts = [
        phone.fill(sheet, {"Level": f"Level {n}"}) for n, (phone, sheet) in enumerate(zip(phones, sheets, strict=True))
    ]
    assert [outcome.text[0] for outcome in await together(*acts)] == ["0", "1"]


async def test_slash_commands_with_people_files_and_suggestions(server: ClassServer, client: SmallBot) -> None:
    ada = Phone(server, "Ada Quill")
    assert ada.commands("sign-up") == ["/squad join", "/squad start"]
    values = {"name": "Moles", "friend": "Ben Marrow", "plan": ("plan.toml", b"[plan]")}
    answer = await ada.command("/squad start", values, room="sign-up")
    assert answer.text == "Moles with Ben Marrow b'[plan]'"
    found = await ada.suggest("/squad join", "squad", "M", room="sign-up")
    assert found.suggestions == (("Moles", "1"),)
    assert (await ada.command("/squad join", {"squad": "1"}, room="sign-up")).kind == "message"


async def test_threads_direct_messages_and_look_ups(server: ClassServer, client: SmallBot) -> None:
    channel = client.get_channel(server.world.room("news").id)
    assert isinstance(channel, discord.TextChannel)
    thread = await channel.create_thread(name="Moles", invitable=False)
    ada = Phone(server, "Ada Quill")
    await thread.add_user(discord.Object(ada.person.id))
    await thread.send("**Title**", file=discord.File(BytesIO(b"x"), "p.png"))
    assert ada.see("Moles")[0].text == "**Title**"
    room = await client.create_dm(discord.Object(ada.person.id))
    sent = await room.send("hello")
    await client.get_partial_messageable(room.id).get_partial_message(sent.id).edit(content="hello again")
    assert [m.text for m in ada.see("direct messages")] == ["hello again"]
    assert (await ada.type_dm("who is there?")).text == "heard: who is there?"
    member = await client.guilds[0].fetch_member(ada.person.id)
    assert member.display_name == "Ada Quill"
    assert [m.content async for m in client.get_partial_messageable(room.id).history(limit=5)][-1] == "hello again"
    assert [p.content async for p in client.get_partial_messageable(server.world.room("sign-up").id).pins()] != []
    ada.person.dms_open = False
    with pytest.raises(discord.Forbidden) as refused:
        await room.send("x")
    assert refused.value.code == 50007


async def test_the_library_resumes_after_a_lost_socket_and_hears_what_it_missed(
    server: ClassServer, client: SmallBot
) -> None:
    ada = Phone(server, "Ada Quill")
    shown = ada.with_button("sign-up", "say")
    await server.gateway.cut()
    outcomes = await together(ada.press(shown, "say"), Phone(server, "Ben Marrow").press(shown, "say"))
    assert [outcome.text for outcome in outcomes] == ["for Ada Quill", "for Ben Marrow"], "replayed within the deadline"
    assert server.gateway.resumes == 1


async def test_the_library_is_told_that_its_token_is_wrong(
    server: ClassServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(discord.http.Route, "BASE", server.api)
    async with SmallBot() as bot:
        with pytest.raises(discord.LoginFailure):
            await bot.login("wrong")

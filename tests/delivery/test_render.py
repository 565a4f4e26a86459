"""How messages and forms look on the wire, and that the chat library keeps none of them in memory."""

from typing import Any

import discord
import pytest
from discord import ui

from bot.delivery.render import message_kwargs, modal
from deploy.rehearsal.wire.interaction_events import COMPONENT, FORM_SENT
from deploy.rehearsal.world.state import Message as Post
from storage.records.message import (
    Attachment,
    Button,
    Choice,
    FileField,
    Form,
    Message,
    PersonSelect,
    RadioField,
    RoomSelect,
    Select,
    SelectField,
    TextField,
)
from tests.delivery.server_view import START, Wire

CHOICES = (Choice(value="a", label="Ay", note="first", chosen=True), Choice(value="b", label="Bee"))
BUTTONS = (
    Button(key="one", label="One", style="main"),
    Button(key="two", label="Two"),
    Button(key="three", label="Three", style="good"),
    Button(key="four", label="Four", style="danger", disabled=True),
)
FULL = Message(
    text="Hello <@7> and @everyone",
    rows=(
        BUTTONS,
        Select(key="pick", prompt="Pick", choices=CHOICES, most=2),
        PersonSelect(key="who", prompt="Who", most=3),
        RoomSelect(key="where", prompt="Where", chosen=42),
    ),
    files=(Attachment(name="table.png", data=b"PNG", alt="A table"),),
    ping=(7,),
)
PLAIN = Message(text="Just words")
FORM = Form(
    key="squad.found:1",
    title="Start a squad",
    fields=(
        TextField(key="name", label="Name", hint="As you like", value="Larks", example="Mud Larks", least=2, most=40),
        TextField(key="note", label="Note", long=True, required=False),
        RadioField(key="level", label="Level", choices=CHOICES),
        SelectField(key="section", label="Section", choices=CHOICES, required=False, least=0),
        FileField(key="file", label="File", most=2),
    ),
)


def interaction(client: discord.Client, wire: Wire, kind: int) -> discord.Interaction:
    """A press or a submitted form, as the gateway would bring it."""
    room, person = wire.channel(42), wire.person(7)
    below = room.messages.setdefault(78, Post(78, room.id, wire.world.bot.id, START, content="Press"))
    data = {"custom_id": "one", "component_type": 2} if kind == COMPONENT else {"custom_id": "one", "components": []}
    made = wire.server.interactions.open(kind, person, room, data, below)
    payload: Any = wire.server.interactions.send(made)
    return discord.Interaction(data=payload, state=client._connection)


async def test_a_full_message_looks_on_the_wire_as_it_should(client: discord.Client, wire: Wire) -> None:
    wire.channel(42)
    await client.get_partial_messageable(42).send(**message_kwargs(FULL), nonce="n-1")
    _, sent = wire.log[-1]
    assert sent["content"] == FULL.text
    assert sent["nonce"] == "n-1" and sent["enforce_nonce"] is True
    assert sent["allowed_mentions"]["parse"] == [] and sent["allowed_mentions"]["users"] == [7]
    assert sent["attachments"] == [{"id": 0, "filename": "table.png", "description": "A table"}]
    buttons, pick, who, where = (row["components"] for row in sent["components"])
    assert [part["style"] for part in buttons] == [1, 2, 3, 4]
    assert [part["disabled"] for part in buttons] == [False, False, False, True]
    assert pick[0]["type"] == 3 and pick[0]["max_values"] == 2
    assert [option.get("default", False) for option in pick[0]["options"]] == [True, False]
    assert who[0]["type"] == 5 and who[0]["max_values"] == 3
    assert where[0]["type"] == 8 and where[0]["channel_types"] == [0]
    assert [(chosen["type"], int(chosen["id"])) for chosen in where[0]["default_values"]] == [("channel", 42)]


async def test_parts_look_as_the_chat_library_would_make_them() -> None:
    """Its own components are the reference; what it leaves to the platform's defaults, or says twice, may differ."""
    buttons, pick, who, where = (row["components"] for row in message_kwargs(FULL)["view"].to_components())
    options = [
        discord.SelectOption(label="Ay", value="a", description="first", default=True),
        discord.SelectOption(label="Bee", value="b"),
    ]
    styles = (discord.ButtonStyle.primary, discord.ButtonStyle.secondary, discord.ButtonStyle.success)
    theirs = [
        ui.Button[Any](custom_id=key, label=key.capitalize(), style=style).to_component_dict()
        for key, style in zip(("one", "two", "three"), styles, strict=True)
    ]
    assert buttons[:3] == theirs
    ours_and_theirs = [
        (pick[0], ui.Select[Any](custom_id="pick", placeholder="Pick", max_values=2, options=options)),
        (who[0], ui.UserSelect[Any](custom_id="who", placeholder="Who", max_values=3)),
        (
            where[0],
            ui.ChannelSelect[Any](
                custom_id="where", placeholder="Where", channel_types=[discord.ChannelType.text],
                default_values=[discord.SelectDefaultValue(id=42, type=discord.SelectDefaultValueType.channel)],
            ),
        ),
    ]  # fmt: skip
    for ours, part in ours_and_theirs:
        theirs_made: dict[str, Any] = {**part.to_component_dict()}
        # It says of a list in a message whether it must be filled, which means something in forms only.
        del theirs_made["required"]
        assert ours == theirs_made
    labels = modal(FORM).to_dict()["components"]
    fields: tuple[ui.Item[Any], ...] = (
        ui.TextInput[Any](custom_id="name", placeholder="Mud Larks", default="Larks", min_length=2, max_length=40),
        ui.TextInput[Any](custom_id="note", style=discord.TextStyle.paragraph, required=False, max_length=200),
        ui.RadioGroup[Any](custom_id="level", options=[discord.RadioGroupOption(
            label="Ay", value="a", description="first", default=True
        ), discord.RadioGroupOption(label="Bee", value="b")]),
        ui.Select[Any](custom_id="section", options=options, required=False, min_values=0),
        ui.FileUpload[Any](custom_id="file", min_values=1, max_values=2),
    )  # fmt: skip
    for label, item in zip(labels, fields, strict=True):
        made = item.to_component_dict()
        assert label["component"] == {name: value for name, value in made.items() if name not in ("label", "disabled")}


async def test_nobody_is_mentioned_unless_the_message_means_to(client: discord.Client, wire: Wire) -> None:
    wire.channel(42)
    await client.get_partial_messageable(42).send(**message_kwargs(PLAIN))
    assert wire.log[-1][1]["allowed_mentions"] == {"parse": []}


async def test_an_edit_takes_away_what_the_new_message_lacks(client: discord.Client, wire: Wire) -> None:
    wire.channel(42)
    sent = await client.get_partial_messageable(42).send(**message_kwargs(FULL))
    await client.get_partial_messageable(42).get_partial_message(sent.id).edit(**message_kwargs(PLAIN, editing=True))
    (left,) = wire.posts(42)
    assert (left.content, left.components, left.files) == ("Just words", [], [])


async def test_a_form_looks_on_the_wire_as_it_should(client: discord.Client, wire: Wire) -> None:
    await interaction(client, wire, COMPONENT).response.send_modal(modal(FORM))
    _, sent = wire.log[-1]
    assert sent["type"] == 9
    assert (sent["data"]["custom_id"], sent["data"]["title"]) == (FORM.key, FORM.title)
    labels = sent["data"]["components"]
    assert [label["type"] for label in labels] == [18] * 5
    assert labels[0]["label"] == "Name" and labels[0]["description"] == "As you like"
    name, note, level, section, file = (label["component"] for label in labels)
    assert name["type"] == 4 and name["style"] == 1 and name["value"] == "Larks" and name["placeholder"] == "Mud Larks"
    assert (name["min_length"], name["max_length"], name["required"]) == (2, 40, True)
    assert note["style"] == 2 and note["required"] is False and "value" not in note
    assert level["type"] == 21 and [option.get("default", False) for option in level["options"]] == [True, False]
    assert section["type"] == 3 and section["required"] is False and section["min_values"] == 0
    assert file["type"] == 19 and file["max_values"] == 2
    assert [part["custom_id"] for part in (name, note, level, section, file)] == [field.key for field in FORM.fields]


async def test_what_stands_in_a_field_from_the_beginning_is_no_longer_than_may_be_typed(
    client: discord.Client, wire: Wire
) -> None:
    fields = tuple(
        TextField(key=key, label="Time", value=value, most=10) for key, value in (("a", "9" * 10), ("b", "😀" * 6))
    )
    await interaction(client, wire, COMPONENT).response.send_modal(modal(Form(key="f", title="F", fields=fields)))
    values = [label["component"]["value"] for label in wire.log[-1][1]["data"]["components"]]
    assert values == ["9" * 10, "😀" * 4 + "…"]


@pytest.mark.parametrize("message", [FULL, PLAIN])
async def test_the_library_keeps_no_view_and_no_form_in_memory(
    client: discord.Client, wire: Wire, message: Message
) -> None:
    """Its table of views is private; the check looks there because that is where a leak would be."""
    wire.channel(42)
    for _ in range(5):
        room = client.get_partial_messageable(42)
        sent = await room.send(**message_kwargs(message))
        await room.get_partial_message(sent.id).edit(**message_kwargs(message, editing=True))
        for private in (True, False):
            await interaction(client, wire, COMPONENT).response.send_message(
                **message_kwargs(message), ephemeral=private
            )
        await interaction(client, wire, FORM_SENT).response.edit_message(**message_kwargs(message, editing=True))
        await interaction(client, wire, COMPONENT).response.send_modal(modal(FORM))
        waiting = interaction(client, wire, COMPONENT)
        await waiting.response.defer(ephemeral=True, thinking=True)
        await waiting.edit_original_response(**message_kwargs(message, editing=True))
    store = client._connection._view_store
    assert client.persistent_views == []
    assert (store._views, store._synced_message_views, store._modals, store._dynamic_items) == ({}, {}, {}, {})

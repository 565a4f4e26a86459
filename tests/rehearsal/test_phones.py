"""People act through what was shown to them, and through nothing else."""

from __future__ import annotations

import re
from typing import Any

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake, together
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot, button, form, label, row, select, text_input

Json = dict[str, Any]
EPHEMERAL = 64


class Echo:
    """Answers every interaction privately with what arrived, and keeps the events."""

    def __init__(self) -> None:
        self.events: list[Json] = []

    async def __call__(self, bot: WireBot, event: Json) -> None:
        self.events.append(event)
        if event["type"] == 3 and event["data"]["custom_id"] == "form":
            options = [{"label": f"level {n}", "value": str(n), "description": "d"} for n in range(3)]
            sheet = form(
                {"type": 10, "content": "Read **this**"},
                label(text_input("name", min_length=2, max_length=5), "Name"),
                label({"type": 21, "custom_id": "radio", "options": options}, "Level"),
                label({"type": 22, "custom_id": "boxes", "options": options, "required": False}, "Boxes"),
                label({"type": 5, "custom_id": "who", "required": False}, "Friend"),
                custom_id=f"f{event['id']}",
            )
            await bot.callback(event, 9, sheet)
        else:
            await bot.callback(event, 4, {"content": f"got {event['data'].get('values')}", "flags": EPHEMERAL})


async def post(server: ClassServer, bot: WireBot, body: Json, room: str = "sign-up") -> str:
    got = await bot.call("POST", f"/channels/{server.world.room(room).id}/messages", body)
    assert got.status == 200, got.body
    return f"/channels/{server.world.room(room).id}/messages/{got.body['id']}"


async def test_a_label_that_is_not_there_and_a_disabled_button_are_mistakes_of_the_cast(
    server: ClassServer, bot: WireBot
) -> None:
    link = {"type": 2, "style": 5, "label": "Site", "url": "https://a.invalid"}
    await post(server, bot, {"components": [row(button("Join"), button("Full", "full", disabled=True), link)]})
    phone = Phone(server, "Ada Quill")
    shown = phone.see("sign-up")[0]
    for name, reason in (("Leave", "0 buttons"), ("Full", "disabled"), ("Site", "a link")):
        with pytest.raises(CastMistake, match=reason):
            phone.press(shown, name)
    assert phone.press(shown, re.compile("Jo.*")) is not None
    assert shown.labels == ("Join", "Site")


async def test_an_old_rendering_can_still_be_pressed(server: ClassServer) -> None:
    echo = Echo()
    async with WireBot(server, echo) as bot:
        await bot.connect()
        path = await post(server, bot, {"content": "old", "components": [row(button("Join", "join:1"))]})
        phone = Phone(server, "Ada Quill")
        old = phone.see("sign-up")[0]
        await bot.call("PATCH", path, {"content": "new", "components": []})
        now = phone.look(old)
        assert now is not None
        assert (old.text, old.labels, now.text, now.labels) == ("old", ("Join",), "new", ())
        await phone.press(old, "Join")
        await phone.press(old, "Join", as_server_has_it=True)
    first, second = echo.events
    assert first["data"]["custom_id"] == "join:1"
    assert first["message"]["components"][0]["components"][0]["custom_id"] == "join:1"
    assert second["message"]["components"] == []


async def test_a_press_carries_what_the_platform_promises(server: ClassServer) -> None:
    echo = Echo()
    async with WireBot(server, echo) as bot:
        await bot.connect()
        await post(server, bot, {"components": [row(button("Join", "join"))]})
        for phone in (Phone(server, "Ada Quill"), Phone(server, "Ms Holloway")):
            await phone.press(phone.see("sign-up")[0], "Join")
        phone = Phone(server, "Ms Holloway")
        room = (await bot.call("POST", "/users/@me/channels", {"recipient_id": phone.person.id})).body["id"]
        await bot.call("POST", f"/channels/{room}/messages", {"components": [row(button("Yes", "yes"))]})
        await phone.press(phone.see("direct messages")[0], "Yes")
    student, coach, direct = echo.events
    needed = {"id", "application_id", "type", "token", "version", "attachment_size_limit", "entitlements", "locale"}
    assert needed <= set(student)
    assert (student["context"], student["guild_id"]) == (0, str(server.world.guild_id))
    assert not int(student["member"]["permissions"]) & 1 << 5
    assert int(coach["member"]["permissions"]) & 1 << 5
    assert (direct["context"], "member" in direct, "guild_id" in direct) == (1, False, False)
    assert direct["authorizing_integration_owners"] == {"0": "0"}
    assert direct["user"]["global_name"] == "Ms Holloway"


async def test_options_and_people_are_chosen_by_the_names_on_the_screen(server: ClassServer) -> None:
    echo = Echo()
    async with WireBot(server, echo) as bot:
        await bot.connect()
        people = {"type": 5, "custom_id": "people", "placeholder": "Who?", "max_values": 2}
        await post(server, bot, {"components": [row(select(3, placeholder="Pick")), row(people)]})
        phone = Phone(server, "Ada Quill")
        shown = phone.see("sign-up")[0]
        assert (await phone.choose(shown, "Pick", "Option 2")).text == "got ['2']"
        await phone.choose(shown, "Who?", ["Ben Marrow", server.world.person("Ms Holloway")])
        for picks, reason in (("Option 9", "0 options"), (["Option 0", "Option 1"], "1 to 1 choices")):
            with pytest.raises(CastMistake, match=reason):
                phone.choose(shown, 0, picks)
    resolved = echo.events[1]["data"]["resolved"]
    assert {user["global_name"] for user in resolved["users"].values()} == {"Ben Marrow", "Ms Holloway"}
    assert set(resolved["members"]) == set(resolved["users"])
    assert all("user" not in member for member in resolved["members"].values())


async def test_a_form_is_filled_in_by_label_and_only_as_the_phone_allows(server: ClassServer) -> None:
    echo = Echo()
    async with WireBot(server, echo) as bot:
        await bot.connect()
        await post(server, bot, {"components": [row(button("Open", "form"))]})
        phone = Phone(server, "Ada Quill")
        sheet = (await phone.press(phone.see("sign-up")[0], "Open")).opened()
        assert sheet.notes == ("Read **this**",)
        assert [(f.label, f.kind, f.required) for f in sheet.fields] == [
            ("Name", "text", True),
            ("Level", "radio", True),
            ("Boxes", "checkboxes", False),
            ("Friend", "people", False),
        ]
        mistakes: list[tuple[Json, str]] = [
            ({"Name": "x", "Level": "level 1"}, "2 to 5 characters"),
            ({"Name": "xxxxxx", "Level": "level 1"}, "2 to 5 characters"),
            ({"Name": "abc"}, "1 to 1 choices"),
            ({"Level": "level 1"}, "must be filled in"),
            ({"Name": "a\nb", "Level": "level 1"}, "single line"),
            ({"Name": "abc", "Level": "level 7"}, "0 options"),
            ({"Nmae": "abc"}, "has no"),
        ]
        for values, reason in mistakes:
            with pytest.raises(CastMistake, match=reason):
                phone.fill(sheet, values)
        with pytest.raises(CastMistake, match="not opened for"):
            Phone(server, "Ben Marrow").fill(sheet, {})
        await phone.fill(
            sheet, {"Name": "abc", "Level": "level 1", "Boxes": ["level 0", "level 2"], "Friend": "Ben Marrow"}
        )
    data = echo.events[1]["data"]
    assert [part["type"] for part in data["components"]] == [10, 18, 18, 18, 18]
    sent = [part["component"] for part in data["components"][1:]]
    assert [v.get("value", v.get("values")) for v in sent[:3]] == ["abc", "1", ["0", "2"]]
    assert sent[3]["values"] == [str(server.world.person("Ben Marrow").id)]
    assert echo.events[1]["message"]["id"] == echo.events[0]["message"]["id"]


async def test_several_phones_act_at_one_instant_and_in_order(server: ClassServer) -> None:
    echo = Echo()
    async with WireBot(server, echo) as bot:
        await bot.connect()
        await post(server, bot, {"components": [row(button("Join", "join"))]})
        phones = [Phone(server, name) for name in ("Ben Marrow", "Ada Quill", "Ms Holloway")]
        shown = phones[0].see("sign-up")[0]
        outcomes = await together(*(phone.press(shown, "Join") for phone in phones))
    assert [event["member"]["user"]["global_name"] for event in echo.events] == [p.person.name for p in phones]
    assert [outcome.kind for outcome in outcomes] == ["private answer"] * 3
    assert [event["id"] for event in echo.events] == sorted(event["id"] for event in echo.events)


async def test_an_event_can_arrive_twice_with_one_identifier(server: ClassServer) -> None:
    echo = Echo()
    async with WireBot(server, echo) as bot:
        await bot.connect()
        await post(server, bot, {"components": [row(button("Join", "join"))]})
        phone = Phone(server, "Ada Quill")
        outcome = await phone.press(phone.see("sign-up")[0], "Join").twice()
        await bot.heard("INTERACTION_CREATE", 2)
    assert echo.events[0]["id"] == echo.events[1]["id"]
    assert outcome.kind == "private answer"
    assert len(phone.see("sign-up")) == 2


async def test_nobody_there_is_a_failure_at_once_and_silence_after_three_seconds(server: ClassServer) -> None:
    async with WireBot(server) as bot:
        await post(server, bot, {"components": [row(button("Join", "join"))]})
        phone = Phone(server, "Ada Quill")
        outcome = await phone.press(phone.see("sign-up")[0], "Join")
        assert outcome.failed
        await bot.connect()
        began = server.clock.now
        outcome = await phone.press(phone.see("sign-up")[0], "Join")
        assert outcome.failed
        assert server.clock.now == began


async def test_commands_take_what_they_were_registered_with(server: ClassServer) -> None:
    echo = Echo()
    options = [
        {"type": 3, "name": "name", "description": "d", "required": True, "min_length": 2, "max_length": 5},
        {"type": 4, "name": "size", "description": "d", "max_value": 4},
        {"type": 6, "name": "friend", "description": "d"},
        {"type": 7, "name": "room", "description": "d", "channel_types": [0]},
        {"type": 11, "name": "plan", "description": "d"},
        {"type": 3, "name": "kind", "description": "d", "choices": [{"name": "First", "value": "1"}]},
    ]
    start = {"type": 1, "name": "start", "description": "d", "options": options}
    async with WireBot(server, echo) as bot:
        await bot.connect()
        path = f"/applications/{server.world.application_id}/guilds/{server.world.guild_id}/commands"
        await bot.call("PUT", path, [{"name": "squad", "description": "d", "options": [start]}])
        phone = Phone(server, "Ada Quill")
        assert phone.commands("sign-up") == ["/squad start"]
        values = {
            "name": "Moles",
            "size": 3,
            "friend": "Ben Marrow",
            "room": "news",
            "plan": ("p.toml", b"x"),
            "kind": "First",
        }
        await phone.command("/squad start", values, room="sign-up")
        for line, wrong, reason in (
            ("/squad stop", {}, "not registered"),
            ("/squad", {}, "not complete"),
            ("/squad start", {}, "needs"),
            ("/squad start", {"name": "Moles", "colour": 1}, "no option"),
        ):
            with pytest.raises(CastMistake, match=reason):
                phone.command(line, wrong, room="sign-up")
        for value in ({"name": "x"}, {"name": 3}, {"name": "ab", "size": 5}, {"name": "ab", "kind": "1"}):
            with pytest.raises(CastMistake):
                await phone.command("/squad start", value, room="sign-up")
    data = echo.events[0]["data"]
    assert data["options"][0]["name"] == "start"
    sent = {option["name"]: option["value"] for option in data["options"][0]["options"]}
    assert (sent["name"], sent["size"], sent["kind"]) == ("Moles", 3, "1")
    assert data["resolved"]["attachments"][sent["plan"]]["filename"] == "p.toml"
    assert data["resolved"]["channels"][sent["room"]]["name"] == "news"


async def test_a_private_answer_is_gone_after_a_reload(server: ClassServer) -> None:
    async with WireBot(server, Echo()) as bot:
        await bot.connect()
        await post(server, bot, {"components": [row(button("Join", "join"))]})
        phone = Phone(server, "Ada Quill")
        await phone.press(phone.see("sign-up")[0], "Join")
        await phone.press(phone.see("sign-up")[0], "Join")
    phone.dismiss(phone.see("sign-up")[1])
    assert len(phone.see("sign-up")) == 2
    phone.reload()
    assert len(phone.see("sign-up")) == 1


async def test_a_room_that_cannot_be_seen_cannot_be_acted_in(server: ClassServer, bot: WireBot) -> None:
    news = server.world.room("news").id
    await bot.call("POST", f"/channels/{news}/threads", {"name": "Moles", "type": 12})
    with pytest.raises(CastMistake, match="sees no room"):
        Phone(server, "Ada Quill").see("Moles")
    with pytest.raises(CastMistake, match="sees no room"):
        Phone(server, "Ada Quill").see("direct messages")


async def test_what_a_select_has_picked_beforehand_is_seen_by_name(server: ClassServer, bot: WireBot) -> None:
    news = server.world.room("news").id
    menu = {"type": 8, "custom_id": "c", "default_values": [{"id": news, "type": "channel"}], "channel_types": [0]}
    await post(server, bot, {"components": [row(menu)]})
    assert [(o.label, o.chosen) for o in Phone(server, "Ada Quill").see("sign-up")[0].selects[0].options] == [
        ("news", True)
    ]
    assert server.request_log.violations == []


def test_what_stands_under_a_message_is_drawn_anew_when_it_changes_or_names_somebody(server: ClassServer) -> None:
    room, world = server.world.room("news"), server.world
    ada = world.person("Ada Quill")
    asks = {"type": 5, "custom_id": "who", "default_values": [{"id": str(ada.id), "type": "user"}]}
    message = server.publisher.create(room, world.bot, {"components": [row(button("One"))]}, [])
    phone = Phone(server, "Ben Marrow")
    old = phone.see("news")[-1]
    assert old.labels == phone.see("news")[-1].labels == ("One",)
    server.publisher.edit(message, {"components": [row(button("Two")), row(asks)]}, [])
    assert phone.see("news")[-1].labels == ("Two",) and old.labels == ("One",)
    ada.name = "Ada Marrow"
    assert [option.label for option in phone.see("news")[-1].selects[0].options] == ["Ada Marrow"]

"""Direct conversations: opened once, closed by the person, gone with the person."""

from __future__ import annotations

from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot


async def test_a_direct_conversation_is_opened_once(server: ClassServer, bot: WireBot) -> None:
    ada = server.world.person("Ada Quill")
    rooms = [
        (await bot.call("POST", "/users/@me/channels", {"recipient_id": value})).body for value in (ada.id, str(ada.id))
    ]
    assert rooms[0]["id"] == rooms[1]["id"]
    assert (rooms[0]["type"], rooms[0]["recipients"][0]["id"]) == (1, str(ada.id))
    assert (await bot.call("POST", "/users/@me/channels", {"recipient_id": "1"})).code == 50033


async def test_closed_direct_messages_and_people_who_left_are_told_apart(server: ClassServer, bot: WireBot) -> None:
    ada = server.world.person("Ada Quill")
    room = (await bot.call("POST", "/users/@me/channels", {"recipient_id": ada.id})).body["id"]
    ada.dms_open = False
    closed = await bot.call("POST", f"/channels/{room}/messages", {"content": "x"})
    assert (closed.status, closed.code) == (403, 50007)
    ada.in_guild = False
    assert (await bot.call("POST", f"/channels/{room}/messages", {"content": "x"})).code == 50278

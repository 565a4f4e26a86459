"""Connecting, identifying, resuming, being thrown out."""

from __future__ import annotations

import asyncio
from typing import Any

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot, until

Json = dict[str, Any]
GUILD_MESSAGES, MEMBERS, CONTENT = 1 << 9, 1 << 1, 1 << 15


async def test_ready_and_the_guild_show_only_the_bot_itself(server: ClassServer, bot: WireBot) -> None:
    guild = (await bot.heard("GUILD_CREATE"))[0]
    assert [member["user"]["id"] for member in guild["members"]] == [str(server.world.bot.id)]
    assert guild["member_count"] == 4
    assert [channel["name"] for channel in guild["channels"]] == ["sign-up", "news"]
    assert {"Coaches", "@everyone", "Tenbell"} == {role["name"] for role in guild["roles"]}


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"token": "wrong"}, 4004),
        ({"intents": 1 << 40}, 4013),
        ({"intents": "all"}, 4013),
        ({"intents": 1 | MEMBERS}, 4014),
        ({"intents": 1 | CONTENT}, 4014),
        ({"shard": [3, 2]}, 4010),
    ],
)
async def test_a_wrong_identity_is_thrown_out_with_its_code(server: ClassServer, change: Json, code: int) -> None:
    async with WireBot(server) as bot:
        await bot.dial()
        await bot.send(2, bot.identity() | change)
        assert await bot.closed() == code
    assert server.gateway.sessions == {}


async def test_an_unknown_version_and_broken_frames_are_thrown_out(server: ClassServer) -> None:
    async with WireBot(server) as bot:
        await bot.dial(query="?v=3&encoding=json")
        assert await bot.closed() == 4012
    for text, code in (("not json", 4002), ('{"op": 1, "d": "' + "x" * 4096 + '"}', 4002), ('{"op": 99}', 4003)):
        async with WireBot(server) as bot:
            await bot.dial()
            await bot.socket.send_str(text)
            assert await bot.closed() == code


async def test_a_second_identity_and_an_unknown_operation_are_thrown_out(server: ClassServer) -> None:
    for operation, code in ((2, 4005), (99, 4001)):
        async with WireBot(server) as bot:
            await bot.dial()
            await bot.send(2, bot.identity())
            await bot.send(operation, bot.identity())
            assert await bot.closed() == code


async def test_more_than_the_allowed_sends_are_thrown_out(server: ClassServer) -> None:
    async with WireBot(server) as bot:
        await bot.dial()
        for _ in range(121):
            await bot.send(1, None)
        assert await bot.closed() == 4008


async def test_a_heartbeat_is_answered(server: ClassServer) -> None:
    async with WireBot(server) as bot:
        await bot.dial()
        hello = await bot.receive()
        assert hello["d"]["heartbeat_interval"] == 41_250
        await bot.send(1, None)
        assert (await bot.receive())["op"] == 11


async def test_a_cut_line_is_dead_without_a_close_frame(server: ClassServer, bot: WireBot) -> None:
    await server.gateway.cut()
    await until(lambda: bot.socket.closed)
    assert bot.socket.close_code == 1006
    await until(lambda: not server.gateway.identified.is_set())
    assert server.gateway.reachable, "the session may still be resumed"


async def resumed(bot: WireBot, session: str, sequence: int) -> None:
    await bot.dial()
    assert (await bot.receive())["op"] == 10
    await bot.send(6, {"token": bot.server.token, "session_id": session, "seq": sequence})


async def test_a_resumed_session_hears_what_it_missed_in_order(server: ClassServer, bot: WireBot) -> None:
    await bot.heard("GUILD_CREATE")
    await server.gateway.cut()
    await asyncio.sleep(0.05)
    for name in ("one", "two"):
        await bot.call("POST", f"/channels/{server.world.room('news').id}/threads", {"name": name, "type": 12})
    await resumed(bot, bot.session_id, bot.sequence)
    frames = [await bot.receive() for _ in range(3)]
    assert [(f["t"], f["d"].get("name")) for f in frames] == [
        ("THREAD_CREATE", "one"),
        ("THREAD_CREATE", "two"),
        ("RESUMED", None),
    ]
    assert [f["s"] for f in frames] == [bot.sequence + 1, bot.sequence + 2, bot.sequence + 3]


async def test_a_session_that_cannot_be_resumed_is_told_to_identify_anew(server: ClassServer, bot: WireBot) -> None:
    await server.gateway.cut()
    server.gateway.refuse_next_resume = True
    await resumed(bot, bot.session_id, bot.sequence)
    assert await bot.receive() == {"op": 9, "d": False, "s": None, "t": None}
    await bot.send(2, bot.identity())
    assert (await bot.receive())["t"] == "READY", "the same connection takes the new identity"
    await resumed(bot, "unknown", 1)
    assert (await bot.receive())["op"] == 9


async def test_a_sequence_from_the_future_is_thrown_out(server: ClassServer, bot: WireBot) -> None:
    await server.gateway.cut()
    await resumed(bot, bot.session_id, 999)
    assert await bot.closed() == 4007


async def test_a_client_that_says_goodbye_cannot_resume(server: ClassServer, bot: WireBot) -> None:
    await bot.socket.close(code=1000)
    await asyncio.sleep(0.05)
    await resumed(bot, bot.session_id, bot.sequence)
    assert (await bot.receive())["op"] == 9


async def test_the_server_can_ask_to_reconnect_and_call_a_session_invalid(server: ClassServer) -> None:
    async with WireBot(server) as bot:
        await bot.dial()
        await bot.receive()
        await bot.send(2, bot.identity())
        assert [(await bot.receive())["t"] for _ in range(2)] == ["READY", "GUILD_CREATE"]
        server.gateway.ask_reconnect()
        assert (await bot.receive())["op"] == 7
        server.gateway.invalidate(resumable=True)
        assert (await bot.receive()) == {"op": 9, "d": True, "s": None, "t": None}
        assert server.gateway.reachable
        server.gateway.invalidate(resumable=False)
        assert (await bot.receive())["d"] is False
        assert not server.gateway.reachable


async def test_on_a_half_open_line_nothing_arrives(server: ClassServer, bot: WireBot) -> None:
    await bot.heard("GUILD_CREATE")
    server.gateway.half_open()
    count = len(bot.events)
    await bot.call("POST", f"/channels/{server.world.room('news').id}/threads", {"name": "x", "type": 12})
    await asyncio.sleep(0.05)
    assert len(bot.events) == count
    assert not bot.socket.closed


async def test_messages_are_only_heard_with_the_intent_for_them(server: ClassServer) -> None:
    async with WireBot(server, intents=1) as deaf, WireBot(server, intents=1 | GUILD_MESSAGES) as listener:
        await deaf.connect()
        await listener.connect()
        await Phone(server, "Ada Quill").say("news", "secret")
        await listener.call("POST", f"/channels/{server.world.room('news').id}/messages", {"content": "own"})
        heard = await listener.heard("MESSAGE_CREATE", 2)
        assert [m["content"] for m in heard] == ["", "own"], "without the content intent only own texts can be read"
        assert not [name for name, _ in deaf.events if name == "MESSAGE_CREATE"]


async def test_a_typed_direct_message_arrives_with_its_text(server: ClassServer, bot: WireBot) -> None:
    phone = Phone(server, "Ada Quill")
    await phone.type_dm("is anybody there?")
    heard = (await bot.heard("MESSAGE_CREATE"))[0]
    assert heard["content"] == "is anybody there?"
    assert "guild_id" not in heard
    assert phone.see("direct messages")[0].text == "is anybody there?"


async def test_only_people_asked_for_by_id_are_told_without_the_members_intent(server: ClassServer) -> None:
    async with WireBot(server) as bot:
        await bot.connect()
        ada = str(server.world.person("Ada Quill").id)
        await bot.send(8, {"guild_id": str(server.world.guild_id), "user_ids": [ada, "1"], "nonce": "n"})
        chunk = (await bot.heard("GUILD_MEMBERS_CHUNK"))[0]
    assert [member["user"]["global_name"] for member in chunk["members"]] == ["Ada Quill"]
    assert (chunk["not_found"], chunk["nonce"]) == (["1"], "n")

"""Nonces, pins, permissions, rate limits: what decides whether a message arrives."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from datetime import timedelta
from typing import Any

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import Behaviour, ClassServer
from deploy.rehearsal.server.rate_limits import PLATFORM_WINDOW, Pace, Paces
from deploy.rehearsal.world.permission_bits import (
    ATTACH_FILES,
    PIN_MESSAGES,
    SEND_MESSAGES,
    SEND_MESSAGES_IN_THREADS,
    VIEW_CHANNEL,
)
from deploy.rehearsal.world.permissions import permissions_in
from deploy.rehearsal.world.state import Overwrite
from tests.rehearsal.conftest import START, small_class
from tests.rehearsal.wire import WireBot, upload

Json = dict[str, Any]


def deny(server: ClassServer, room: str, bits: int) -> None:
    server.world.room(room).overwrites.append(Overwrite(server.world.bot.id, for_person=True, deny=bits))


async def test_a_repeated_nonce_returns_the_old_message_for_some_minutes(
    server: ClassServer, bot: WireBot, sign_up: str
) -> None:
    body = {"content": "once", "nonce": "row-7", "enforce_nonce": True}
    first = await bot.call("POST", sign_up, body)
    again = await bot.call("POST", sign_up, body | {"content": "twice"})
    assert (again.body["id"], again.body["content"]) == (first.body["id"], "once")
    assert len(Phone(server, "Ada Quill").see("sign-up")) == 1
    assert (await bot.call("POST", sign_up, body | {"enforce_nonce": False})).body["id"] != first.body["id"]
    await server.clock.step_to(server.clock.now + timedelta(minutes=6))
    assert (await bot.call("POST", sign_up, body)).body["id"] != first.body["id"], "the memory is short"


async def test_pins_are_listed_newest_first_and_leave_a_notice(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    for text in ("a", "b"):
        message = (await bot.call("POST", sign_up, {"content": text})).body["id"]
        assert (await bot.call("PUT", f"{sign_up}/pins/{message}")).status == 204
        await server.clock.step_to(server.clock.now + timedelta(seconds=1))
    pins = (await bot.call("GET", f"{sign_up}/pins")).body
    assert [item["message"]["content"] for item in pins["items"]] == ["b", "a"]
    assert pins["has_more"] is False
    history = (await bot.call("GET", sign_up)).body
    assert [m["type"] for m in history] == [6, 0, 6, 0]
    assert [m.text for m in Phone(server, "Ada Quill").pinned("sign-up")] == ["a", "b"]


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


@pytest.mark.parametrize(
    ("bits", "code"), [(VIEW_CHANNEL, 50001), (SEND_MESSAGES, 50013), (ATTACH_FILES, 50013), (PIN_MESSAGES, 50013)]
)
async def test_a_missing_permission_is_named_by_its_code(
    server: ClassServer, bot: WireBot, sign_up: str, bits: int, code: int
) -> None:
    old = (await bot.call("POST", sign_up, {"content": "x"})).body["id"]
    deny(server, "sign-up", bits)
    if bits == PIN_MESSAGES:
        got = await bot.call("PUT", f"{sign_up}/pins/{old}")
    else:
        got = await bot.call("POST", sign_up, data=upload({"attachments": [{"id": 0, "filename": "a.txt"}]}, b"x"))
    assert (got.status, got.code) == (403, code)


async def test_what_is_not_there_has_its_own_code(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    guild = server.world.guild_id
    assert (await bot.call("GET", "/channels/1")).code == 10003
    assert (await bot.call("GET", f"{sign_up}/1")).code == 10008
    assert (await bot.call("GET", f"/guilds/{guild}/members/1")).code == 10013
    assert (await bot.call("GET", "/guilds/1/roles")).code == 10004
    assert (await bot.call("GET", f"/guilds/{guild}/members")).code == 50001, "that needs a privileged intent"
    assert (await bot.call("GET", "/nonsense")).status == 404
    server.world.person("Ben Marrow").in_guild = False
    assert (await bot.call("GET", f"/guilds/{guild}/members/{server.world.person('Ben Marrow').id}")).code == 10007


async def test_the_bot_edits_and_deletes_only_its_own(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    await Phone(server, "Ada Quill").say("sign-up", "mine")
    message = Phone(server, "Ada Quill").see("sign-up")[0].message_id
    assert (await bot.call("PATCH", f"{sign_up}/{message}", {"content": "x"})).code == 50005
    assert (await bot.call("DELETE", f"{sign_up}/{message}")).code == 50013


async def test_without_the_right_token_or_name_nothing_is_served(server: ClassServer, bot: WireBot) -> None:
    assert (await bot.call("GET", "/users/@me", headers={"Authorization": "Bot wrong"})).status == 401
    assert (await bot.call("GET", "/users/@me", headers={"User-Agent": "curl"})).code == 40333


async def test_a_private_thread_is_seen_by_its_members_and_by_who_manages_threads(
    server: ClassServer, bot: WireBot
) -> None:
    news = server.world.room("news").id
    made = await bot.call("POST", f"/channels/{news}/threads", {"name": "Rubber Plums", "type": 12, "invitable": False})
    assert made.status == 201
    thread = made.body["id"]
    ada, ben = Phone(server, "Ada Quill"), Phone(server, "Ben Marrow")
    assert "Rubber Plums" not in ada.rooms
    assert (await bot.call("PUT", f"/channels/{thread}/thread-members/{ada.person.id}")).status == 204
    assert (await bot.call("POST", f"/channels/{thread}/messages", {"content": "hello"})).status == 200
    assert ada.see("Rubber Plums")[0].text == "hello"
    assert "Rubber Plums" not in ben.rooms
    assert "Rubber Plums" in Phone(server, "Ms Holloway").rooms
    assert (await bot.call("DELETE", f"/channels/{thread}/thread-members/{ada.person.id}")).status == 204
    assert "Rubber Plums" not in ada.rooms


async def test_a_thread_rests_after_its_time_and_wakes_on_a_message(server: ClassServer, bot: WireBot) -> None:
    news = server.world.room("news").id
    made = await bot.call(
        "POST", f"/channels/{news}/threads", {"name": "Moles", "type": 12, "auto_archive_duration": 60}
    )
    thread = f"/channels/{made.body['id']}"
    message = (await bot.call("POST", f"{thread}/messages", {"content": "x"})).body["id"]
    await server.clock.step_to(server.clock.now + timedelta(minutes=60))
    ada = server.world.person("Ada Quill").id
    assert (await bot.call("PUT", f"{thread}/thread-members/{ada}")).code == 50083
    assert (await bot.call("PATCH", f"{thread}/messages/{message}", {"content": "y"})).code == 50083
    assert (await bot.call("POST", f"{thread}/messages", {"content": "z"})).status == 200
    assert (await bot.call("PUT", f"{thread}/thread-members/{ada}")).status == 204
    assert (await bot.call("PATCH", thread, {"locked": True})).code == 50013, "locking needs MANAGE_THREADS"
    assert (await bot.call("PATCH", thread, {"archived": True})).body["thread_metadata"]["archived"] is True
    too_long = {"name": "x", "type": 12, "auto_archive_duration": 14400}
    assert (await bot.call("POST", f"/channels/{news}/threads", too_long)).code == 50035


async def test_thread_permissions_come_from_the_channel(server: ClassServer, bot: WireBot) -> None:
    news = server.world.room("news")
    made = await bot.call("POST", f"/channels/{news.id}/threads", {"name": "Moles", "type": 12})
    thread = server.world.rooms[int(made.body["id"])]
    deny(server, "news", SEND_MESSAGES)
    assert (await bot.call("POST", f"/channels/{thread.id}/messages", {"content": "x"})).status == 200
    deny(server, "news", SEND_MESSAGES_IN_THREADS)
    assert (await bot.call("POST", f"/channels/{thread.id}/messages", {"content": "x"})).code == 50013
    deny(server, "news", VIEW_CHANNEL)
    assert permissions_in(server.world, server.world.bot, thread) == 0


async def test_a_mention_rings_only_where_it_was_allowed(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    ada = server.world.person("Ada Quill")
    text = {"content": f"<@{ada.id}> come"}
    await bot.call("POST", sign_up, text | {"allowed_mentions": {"parse": []}})
    await bot.call("POST", sign_up, text | {"allowed_mentions": {"users": [str(ada.id)]}})
    await bot.call("POST", sign_up, text)
    await bot.call("POST", sign_up, {"content": "@everyone come"})
    shown = Phone(server, ada).see("sign-up")
    assert [message.pinged for message in shown] == [False, True, True, False]
    assert shown[0].text == "@Ada Quill come"
    assert not Phone(server, "Ben Marrow").see("sign-up")[1].pinged


async def test_a_file_can_be_fetched_for_a_day(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    body = upload({"attachments": [{"id": 0, "filename": "a.txt"}]}, b"content")
    url = (await bot.call("POST", sign_up, data=body)).body["attachments"][0]["url"]
    async with bot.session.get(url) as fetched:
        assert (fetched.status, await fetched.read()) == (200, b"content")
    async with bot.session.get(url.replace("hm=", "hm=0")) as forged:
        assert forged.status == 404
    await server.clock.step_to(server.clock.now + timedelta(hours=25))
    async with bot.session.get(url) as late:
        assert late.status == 404
    assert Phone(server, "Ada Quill").download(Phone(server, "Ada Quill").see("sign-up")[0].files[0]) == b"content"


@pytest.fixture
async def strict() -> AsyncIterator[tuple[ClassServer, WireBot]]:
    route = "POST /channels/{channel_id}/messages"
    behaviour = Behaviour(paces=Paces(everything=Pace(8, 2.0), by_route={route: Pace(3, 2.0)}))
    async with small_class(ClassServer(START, behaviour=behaviour)) as server, WireBot(server) as bot:
        yield server, bot


async def test_a_bucket_tells_where_it_stands_and_refuses_the_one_too_many(strict: tuple[ClassServer, WireBot]) -> None:
    server, bot = strict
    paths = [f"/channels/{server.world.room(name).id}/messages" for name in ("sign-up", "news")]
    got = [await bot.call("POST", paths[0], {"content": "x"}) for _ in range(4)]
    assert [g.status for g in got] == [200, 200, 200, 429]
    assert [g.headers["X-RateLimit-Remaining"] for g in got] == ["2", "1", "0", "0"]
    for headers in (g.headers for g in got):
        assert headers["X-RateLimit-Limit"] == "3"
        assert 0 <= float(headers["X-RateLimit-Reset-After"]) <= 2.0
        assert float(headers["X-RateLimit-Reset"]) > 1_600_000_000
    refused = got[3]
    assert refused.headers["Via"]
    assert refused.headers["X-RateLimit-Scope"] == "user"
    assert (refused.body["global"], 0 < refused.body["retry_after"] <= 2.0) == (False, True)
    other = await bot.call("POST", paths[1], {"content": "x"})
    assert other.status == 200, "each channel has a bucket of its own"
    assert other.headers["X-RateLimit-Bucket"] == got[0].headers["X-RateLimit-Bucket"]
    await asyncio.sleep(refused.body["retry_after"])
    assert (await bot.call("POST", paths[0], {"content": "x"})).status == 200


async def test_a_bucket_is_fresh_once_the_platform_window_has_passed_in_virtual_time(
    strict: tuple[ClassServer, WireBot],
) -> None:
    server, bot = strict
    path = f"/channels/{server.world.room('sign-up').id}/messages"

    async def statuses(count: int) -> list[int]:
        return [(await bot.call("POST", path, {"content": "x"})).status for _ in range(count)]

    assert await statuses(4) == [200, 200, 200, 429]
    await server.clock.step_to(server.clock.now + PLATFORM_WINDOW - timedelta(seconds=1))
    assert await statuses(1) == [429], "the window has not passed in any time"
    await server.clock.step_to(server.clock.now + timedelta(seconds=1))
    assert await statuses(4) == [200, 200, 200, 429]


async def test_the_global_limit_spares_interactions(strict: tuple[ClassServer, WireBot]) -> None:
    _, bot = strict
    got = [await bot.call("GET", "/users/@me") for _ in range(9)]
    assert [g.status for g in got] == [200] * 8 + [429]
    assert got[8].headers["X-RateLimit-Global"] == "true"
    assert got[8].body["global"] is True
    late = await bot.call("POST", "/interactions/1/none/callback", {"type": 6})
    assert late.code == 10062, "the callback was served, if only to say that nobody knows this interaction"

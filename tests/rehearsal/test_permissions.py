"""Who may do what where: what decides whether a message arrives."""

from __future__ import annotations

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.world.permission_bits import (
    ATTACH_FILES,
    PIN_MESSAGES,
    SEND_MESSAGES,
    SEND_MESSAGES_IN_THREADS,
    VIEW_CHANNEL,
)
from deploy.rehearsal.world.permissions import permissions_in
from deploy.rehearsal.world.state import Overwrite
from tests.rehearsal.wire import WireBot, upload


def deny(server: ClassServer, room: str, bits: int) -> None:
    server.world.room(room).overwrites.append(Overwrite(server.world.bot.id, for_person=True, deny=bits))


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


async def test_the_bot_edits_and_deletes_only_its_own(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    await Phone(server, "Ada Quill").say("sign-up", "mine")
    message = Phone(server, "Ada Quill").see("sign-up")[0].message_id
    assert (await bot.call("PATCH", f"{sign_up}/{message}", {"content": "x"})).code == 50005
    assert (await bot.call("DELETE", f"{sign_up}/{message}")).code == 50013


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

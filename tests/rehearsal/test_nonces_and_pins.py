"""Messages that come twice, and pins."""

from __future__ import annotations

from datetime import timedelta

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot


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

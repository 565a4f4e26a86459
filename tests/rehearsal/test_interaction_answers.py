"""One first answer, in time and of the right kind; follow-ups while the token lives."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from datetime import timedelta
from typing import Any

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Outcome
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import Got, WireBot, button, form, label, row, text_input, until

Json = dict[str, Any]
EPHEMERAL, V2 = 64, 1 << 15


class Exchange:
    """What the bot of a test answered, and what it got for it."""

    def __init__(self) -> None:
        self.got: list[Got] = []
        self.event: Json = {}


@asynccontextmanager
async def panel(
    server: ClassServer, reply: Callable[[WireBot, Json, Exchange], Awaitable[None]]
) -> AsyncIterator[tuple[WireBot, Exchange]]:
    """Run a bot that has posted one button and answers as told."""
    exchange = Exchange()

    async def answer(bot: WireBot, event: Json) -> None:
        exchange.event = event
        await reply(bot, event, exchange)

    async with WireBot(server, answer) as bot:
        await bot.connect()
        path = f"/channels/{server.world.room('sign-up').id}/messages"
        await bot.call("POST", path, {"content": "Panel", "components": [row(button())]})
        yield bot, exchange


async def press(server: ClassServer, name: str = "Ada Quill") -> Outcome:
    phone = Phone(server, name)
    return await phone.press(phone.see("sign-up")[0], "Press")


async def test_a_second_first_answer_is_refused_and_the_first_stands(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        exchange.got = [await bot.callback(event, 4, {"content": text}) for text in ("one", "two")]

    async with panel(server, reply) as (_, exchange):
        assert (await press(server)).text == "one"
        await until(lambda: len(exchange.got) == 2)
    assert [got.status for got in exchange.got] == [200, 400]
    assert exchange.got[1].code == 40060
    assert exchange.got[0].body["resource"]["message"]["content"] == "one"


async def test_an_answer_is_sent_back_only_to_a_bot_that_asks_for_it(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        path = f"/interactions/{event['id']}/{event['token']}/callback"
        exchange.got = [await bot.call("POST", path, {"type": 4, "data": {"content": "one"}})]

    async with panel(server, reply) as (_, exchange):
        assert (await press(server)).text == "one"
        await until(lambda: len(exchange.got) == 1)
    assert (exchange.got[0].status, exchange.got[0].body) == (204, None)


async def test_nobody_waits_for_the_answer_of_a_bot_that_has_been_killed_and_none_can_come(server: ClassServer) -> None:
    """The person would see the same after three seconds; the time of the class server stands still meanwhile."""

    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        server.interactions.abandon()
        exchange.got = [await bot.callback(event, 4, {"content": "from the dead"})]

    async with panel(server, reply) as (_, exchange):
        outcome = await press(server)
        assert (outcome.failed, outcome.failure) == (True, "No answer came in time.")
        await until(lambda: len(exchange.got) == 1)
    assert (exchange.got[0].status, exchange.got[0].code) == (404, 10062)


async def test_an_answer_after_three_seconds_is_too_late(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        await server.machine.sleep(3.05)
        exchange.got = [await bot.callback(event, 4, {"content": "late"})]

    async with panel(server, reply) as (_, exchange):
        outcome = await press(server)
        assert outcome.failed
        await until(lambda: len(exchange.got) == 1)
    assert (exchange.got[0].status, exchange.got[0].code) == (404, 10062)


async def test_a_refused_answer_does_not_use_up_the_chance(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        exchange.got = [await bot.callback(event, 4, {"content": text}) for text in ("x" * 2001, "short")]

    async with panel(server, reply) as (_, exchange):
        assert (await press(server)).text == "short"
    assert "content" in exchange.got[0].body["errors"]["data"]


async def test_a_wrong_token_answers_nothing(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        exchange.got = [await bot.callback(event | {"token": "0" * 64}, 4, {"content": "x"})]
        await bot.callback(event, 6)

    async with panel(server, reply) as (_, exchange):
        await press(server)
    assert exchange.got[0].code == 10062


@pytest.mark.parametrize(
    ("kind", "data"), [(9, form(label(text_input()))), (8, {"choices": []}), (1, None), (12, None)]
)
async def test_a_sent_form_cannot_be_answered_with_a_form(server: ClassServer, kind: int, data: Any) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        if event["type"] == 3:
            await bot.callback(event, 9, form(label(text_input())))
        else:
            exchange.got = [await bot.callback(event, kind, data), await bot.callback(event, 4, {"content": "done"})]

    async with panel(server, reply) as (_, exchange):
        sheet = (await press(server)).opened()
        outcome = await Phone(server, "Ada Quill").fill(sheet, {"Name": "x"})
    assert (exchange.got[0].status, exchange.got[0].code) == (400, 50035)
    assert outcome.text == "done"


async def test_a_form_cannot_follow_a_deferral(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        exchange.got = [await bot.callback(event, 6), await bot.callback(event, 9, form(label(text_input())))]

    async with panel(server, reply) as (_, exchange):
        outcome = await press(server)
    assert exchange.got[1].code == 40060
    assert outcome.kind == "nothing" or outcome.form is None


async def test_a_form_from_a_button_may_update_the_message_and_one_from_a_command_may_not(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        if event["type"] != 5:
            await bot.callback(event, 9, form(label(text_input())))
        else:
            exchange.got.append(await bot.callback(event, 7, {"content": "changed"}))
            await bot.callback(event, 4, {"content": "fallback"})

    async with panel(server, reply) as (bot, exchange):
        phone = Phone(server, "Ada Quill")
        await phone.fill((await press(server)).opened(), {"Name": "x"})
        assert phone.see("sign-up")[0].text == "changed"
        path = f"/applications/{server.world.application_id}/commands"
        await bot.call("PUT", path, [{"name": "open", "description": "d"}])
        sheet = (await phone.command("/open", room="sign-up")).opened()
        await phone.fill(sheet, {"Name": "x"})
    assert [got.status for got in exchange.got] == [200, 400]


async def test_a_private_answer_is_seen_by_one_and_unreachable_by_channel_routes(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        exchange.got = [await bot.callback(event, 4, {"content": "psst", "flags": EPHEMERAL})]

    async with panel(server, reply) as (bot, exchange):
        outcome = await press(server)
        await bot.replied()
        assert outcome.kind == "private answer"
        assert [m.text for m in Phone(server, "Ada Quill").see("sign-up")] == ["Panel", "psst"]
        assert [m.text for m in Phone(server, "Ben Marrow").see("sign-up")] == ["Panel"]
        path = f"/channels/{server.world.room('sign-up').id}/messages"
        number = exchange.got[0].body["interaction"]["response_message_id"]
        for method, body in (("GET", None), ("PATCH", {"content": "x"}), ("DELETE", None)):
            assert (await bot.call(method, f"{path}/{number}", body)).code == 10008
        assert [m["content"] for m in (await bot.call("GET", path)).body] == ["Panel"]
        changed = await bot.webhook("PATCH", exchange.event, "/messages/@original", {"content": "psst again"})
        assert changed.body["flags"] & EPHEMERAL
        assert Phone(server, "Ada Quill").see("sign-up")[-1].text == "psst again"
        assert (await bot.webhook("DELETE", exchange.event, "/messages/@original")).status == 204
    assert [m.text for m in Phone(server, "Ada Quill").see("sign-up")] == ["Panel"]


async def test_privacy_is_fixed_by_the_deferral(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        await bot.callback(event, 5, {"flags": EPHEMERAL})
        exchange.got = [
            await bot.webhook("PATCH", event, "/messages/@original", {"content": "only you", "flags": 0}),
            await bot.webhook("POST", event, body={"content": "all of you"}),
        ]

    async with panel(server, reply) as (_, exchange):
        outcome = await press(server)
        await until(lambda: len(exchange.got) == 2)
        assert outcome.message is not None
        assert outcome.message.private
        assert [m.text for m in Phone(server, "Ben Marrow").see("sign-up")] == ["Panel", "all of you"]
    assert exchange.got[0].body["flags"] == EPHEMERAL, "neither public now nor still loading"


async def test_the_first_follow_up_fills_the_loading_message(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        await bot.callback(event, 5, {"flags": EPHEMERAL})
        exchange.got = [await bot.webhook("POST", event, body={"content": "filled"})]

    async with panel(server, reply):
        outcome = await press(server)
        assert (outcome.kind, outcome.text) == ("private answer", "filled")
        assert len(Phone(server, "Ada Quill").see("sign-up")) == 2


@pytest.mark.parametrize(("kind", "flags"), [(4, 1 << 0), (4, 1 << 7), (5, V2), (5, 1 << 2)])
async def test_an_answer_may_not_set_every_flag(server: ClassServer, kind: int, flags: int) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        exchange.got = [await bot.callback(event, kind, {"content": "x", "flags": flags})]
        await bot.callback(event, 6)

    async with panel(server, reply) as (_, exchange):
        await press(server)
    assert "flags" in exchange.got[0].body["errors"]["data"]


async def test_a_token_dies_after_fifteen_virtual_minutes(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        await bot.callback(event, 4, {"content": "x"})

    async with panel(server, reply) as (bot, exchange):
        await press(server)
        await server.clock.step_to(server.clock.now + timedelta(minutes=14, seconds=59))
        assert (await bot.webhook("POST", exchange.event, body={"content": "y"})).status == 200
        await server.clock.step_to(server.clock.now + timedelta(seconds=1))
        for method, rest in (("POST", ""), ("GET", "/messages/@original"), ("DELETE", "/messages/@original")):
            dead = await bot.webhook(method, exchange.event, rest, {"content": "z"} if method == "POST" else None)
            assert (dead.status, dead.code) == (401, 50027)


async def test_a_token_is_of_no_use_before_the_first_answer(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        exchange.got = [await bot.webhook("POST", event, body={"content": "x"})]
        await bot.callback(event, 6)

    async with panel(server, reply) as (_, exchange):
        await press(server)
    assert exchange.got[0].code == 10015


async def test_a_press_on_a_deleted_message_can_still_be_answered(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        exchange.got = [
            await bot.callback(event, 7, {"content": "x"}),
            await bot.callback(event, 4, {"content": "new"}),
        ]

    async with panel(server, reply) as (bot, exchange):
        phone = Phone(server, "Ada Quill")
        old = phone.see("sign-up")[0]
        await bot.call("DELETE", f"/channels/{old.room_id}/messages/{old.message_id}")
        assert phone.look(old) is None
        assert (await phone.press(old, "Press")).text == "new"
    assert exchange.got[0].code == 10008
    assert exchange.event["message"]["content"] == "Panel"


async def test_the_time_to_the_first_answer_is_in_the_books(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json, exchange: Exchange) -> None:
        await asyncio.sleep(0.1)
        await bot.callback(event, 6)

    async with panel(server, reply):
        await press(server)
    assert len(server.request_log.ack_ms) == 1
    assert 100 <= server.request_log.ack_ms[0] < 60_000

"""One season, one transcript, byte for byte, however the answers of the bot race each other."""

from __future__ import annotations

import asyncio
import json
from datetime import timedelta
from random import Random
from typing import Any

import aiohttp

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import together
from deploy.rehearsal.server.class_server import Behaviour, ClassServer
from deploy.rehearsal.server.rate_limits import Paces
from tests.rehearsal.conftest import START, small_class
from tests.rehearsal.wire import WireBot, button, form, label, row, text_input, until

Json = dict[str, Any]
UNHURRIED = Behaviour(paces=Paces(by_route={}))


class Racing:
    """A bot that answers privately, changes the board and writes to the news, each after a random while."""

    def __init__(self, server: ClassServer, seed: int) -> None:
        self._random = Random(seed)
        self._server = server
        self.busy = 0
        self.count = 0
        self.board = ""

    async def __call__(self, bot: WireBot, event: Json) -> None:
        self.busy += 1
        self.count += 1
        number = self.count
        try:
            name = event["member"]["user"]["global_name"]
            if event["type"] == 3 and event["data"]["custom_id"] == "form":
                await bot.callback(event, 9, form(label(text_input())))
                return
            work = [
                self._later(bot.callback(event, 4, {"content": f"{number} {name}", "flags": 64})),
                self._later(bot.call("PATCH", self.board, {"content": f"board after {number}"})),
                self._later(
                    bot.call(
                        "POST",
                        f"/channels/{self._server.world.room('news').id}/messages",
                        {"content": f"news {number}"},
                    )
                ),
            ]
            self._random.shuffle(work)
            for result in await asyncio.gather(*work):
                assert result.status == 200, result.body
        finally:
            self.busy -= 1

    async def _later(self, call: Any) -> Any:
        await asyncio.sleep(self._random.uniform(0, 0.02))
        return await call

    async def keep_time(self, socket: aiohttp.ClientWebSocketResponse) -> None:
        async for message in socket:
            await asyncio.sleep(0.01)
            await until(lambda: not self.busy)
            await socket.send_json({"settled": json.loads(message.data)["step"], "next": None})


async def small_season(seed: int) -> tuple[str, list[int]]:
    """Play a few minutes of a season; `seed` only changes how the bot's answers race."""
    async with small_class(ClassServer(START, behaviour=UNHURRIED)) as server, aiohttp.ClientSession() as session:
        racing = Racing(server, seed)
        async with WireBot(server, racing) as bot, session.ws_connect(server.clock_address) as clock:
            await bot.connect()
            keeper = asyncio.create_task(racing.keep_time(clock))
            path = f"/channels/{server.world.room('sign-up').id}/messages"
            buttons = row(button("Join", "join"), button("Open", "form"))
            racing.board = (
                f"{path}/{(await bot.call('POST', path, {'content': 'board', 'components': [buttons]})).body['id']}"
            )
            await server.clock.settle()
            ada, ben = Phone(server, "Ada Quill"), Phone(server, "Ben Marrow")
            for _ in range(3):
                await ada.press(ada.see("sign-up")[0], "Join")
                await server.clock.step_to(server.clock.now + timedelta(minutes=1))
                sheet = (await ben.press(ben.see("sign-up")[0], "Open")).opened()
                await ben.fill(sheet, {"Name": "Rubber Turnips"})
            keeper.cancel()
            await asyncio.gather(keeper, return_exceptions=True)
            order = [m.id for m in server.world.room("news").messages.values()]
            return server.transcript.text(), order


async def test_the_transcript_does_not_depend_on_which_answer_was_quicker() -> None:
    first, _ = await small_season(1)
    for seed in (2, 3, 4):
        again, _ = await small_season(seed)
        assert again == first
    lines = [json.loads(line) for line in first.splitlines()]
    story = [(line["kind"], line["room"], line["private_to"]) for line in lines[1:5]]
    assert story == [
        ("press", "sign-up", "Ada Quill"),
        ("private answer", "sign-up", "Ada Quill"),
        ("message", "news", ""),
        ("edit", "sign-up", ""),
    ]
    sent = next(line for line in lines if line["kind"] == "form sent")
    assert sent["body"] == {"title": "A form", "values": {"Name": "Rubber Turnips"}}


async def test_the_transcript_tells_who_saw_what(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    news = server.world.room("news").id
    thread = (await bot.call("POST", f"/channels/{news}/threads", {"name": "Moles", "type": 12})).body["id"]
    await bot.call("PUT", f"/channels/{thread}/thread-members/{server.world.person('Ada Quill').id}")
    await bot.call("POST", f"/channels/{thread}/messages", {"content": "for Moles"})
    await bot.call("POST", sign_up, {"content": f"<@{server.world.person('Ben Marrow').id}> hello"})
    for_moles, for_all = server.transcript.entries
    assert for_moles.seen_by == ("Ada Quill", "Ms Holloway")
    assert for_all.seen_by == ("Ada Quill", "Ben Marrow", "Ms Holloway")
    assert for_all.body == {"blocks": [{"text": "@Ben Marrow hello"}], "pings": ["Ben Marrow"]}
    assert str(server.world.person("Ben Marrow").id) not in server.transcript.text(), "names, not numbers"


async def test_acts_of_one_instant_stand_in_the_order_they_were_begun(server: ClassServer) -> None:
    async def reply(bot: WireBot, event: Json) -> None:
        slow = event["member"]["user"]["global_name"] == "Ben Marrow"
        await asyncio.sleep(0.05 if slow else 0)
        await bot.callback(event, 4, {"content": "x", "flags": 64})

    async with WireBot(server, reply) as bot:
        await bot.connect()
        path = f"/channels/{server.world.room('sign-up').id}/messages"
        await bot.call("POST", path, {"components": [row(button("Join"))]})
        server.transcript.seal()
        phones = [Phone(server, "Ben Marrow"), Phone(server, "Ada Quill")]
        await together(*(phone.press(phone.see("sign-up")[0], "Join") for phone in phones))
    kinds = [(entry.kind, entry.private_to) for entry in server.transcript.entries[1:]]
    assert kinds == [
        ("press", "Ben Marrow"),
        ("private answer", "Ben Marrow"),
        ("press", "Ada Quill"),
        ("private answer", "Ada Quill"),
    ]

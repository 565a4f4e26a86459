"""Injected faults are real, and the same for the same seed."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

import aiohttp
import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server import fault_kinds as kinds
from deploy.rehearsal.server import platform_faults as t
from deploy.rehearsal.server.class_server import Behaviour, ClassServer
from deploy.rehearsal.server.rate_limits import Paces
from deploy.rehearsal.wire.request_bodies import Body
from tests.rehearsal.conftest import START, small_class
from tests.rehearsal.wire import WireBot, button, row, until

UNHURRIED = Behaviour(paces=Paces(by_route={}))


@asynccontextmanager
async def faulty(kinds: list[str], **rates: float) -> AsyncIterator[tuple[ClassServer, WireBot, t.FaultInjection]]:
    faults = t.FaultInjection(7, kinds, rates=rates)
    async with small_class(ClassServer(START, behaviour=UNHURRIED, faults=faults)) as server, WireBot(server) as bot:
        yield server, bot, faults


def story(seed: int) -> list[Any]:
    """What befalls a hundred requests to each of two routes, asked in turn."""
    faults = t.FaultInjection(seed, [kinds.LIMITS, kinds.ERRORS, kinds.SLOW], rates={"limits": 0.2, "errors": 0.2})
    return [faults.for_request(f"GET /{n % 2}") for n in range(200)]


def test_the_same_seed_brings_the_same_faults_and_another_seed_another() -> None:
    assert story(1) == story(1)
    assert story(1) != story(2)
    assert any(story(1))


def test_what_befalls_one_route_does_not_depend_on_the_traffic_of_another() -> None:
    alone = t.FaultInjection(1, [kinds.ERRORS], rates={"errors": 0.3})
    beside = t.FaultInjection(1, [kinds.ERRORS], rates={"errors": 0.3})
    quiet = [alone.for_request("GET /a") for _ in range(50)]
    busy = []
    for _ in range(50):
        beside.for_request("GET /b")
        busy.append(beside.for_request("GET /a"))
    assert quiet == busy


def test_an_unknown_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="ghosts"):
        t.FaultInjection(1, ["ghosts"])


async def test_a_fault_given_by_hand_befalls_the_request_it_was_meant_for() -> None:
    async with small_class(ClassServer(START, behaviour=UNHURRIED)) as server, WireBot(server) as bot:
        room = server.world.room("news")
        asked: list[tuple[str, str]] = []

        async def refuse(route: str, body: Body) -> t.Fault | None:
            asked.append((route, body.json["content"]))
            return t.Fault(503, {"message": "", "code": 0}) if body.json["content"] == "bad" else None

        server.rest.hooks.before = refuse
        path = f"/channels/{room.id}/messages"
        assert [(await bot.call("POST", path, {"content": word})).status for word in ("bad", "good")] == [503, 200]
        assert asked == [("POST /channels/{channel_id}/messages", word) for word in ("bad", "good")]
        server.rest.hooks.before, server.rest.hooks.after = None, refuse
        assert (await bot.call("POST", path, {"content": "bad"})).status == 503
        assert [one.content for one in room.messages.values()] == ["good", "bad"], "it had acted all the same"


async def test_limits_come_as_a_client_library_expects_them() -> None:
    async with faulty([kinds.LIMITS], limits=1.0) as (server, bot, faults):
        path = f"/channels/{server.world.room('news').id}/messages"
        got = [await bot.call("POST", path, {"content": "x"}) for _ in range(20)]
        assert {g.status for g in got} == {429}
        assert {g.headers["X-RateLimit-Scope"] for g in got} == {"user", "shared", "global"}
        assert all(g.headers["Via"] and 0 < g.body["retry_after"] <= 0.2 for g in got)
        assert all(g.body["global"] == (g.headers["X-RateLimit-Scope"] == "global") for g in got)
        assert Phone(server, "Ada Quill").see("news") == []
        assert (await bot.call("GET", "/users/@me")).status == 200, "logging in is spared"
        assert sum(faults.happened.values()) == 20


async def test_errors_come_before_and_after_the_server_acted() -> None:
    async with faulty([kinds.ERRORS], errors=1.0) as (server, bot, faults):
        path = f"/channels/{server.world.room('news').id}/messages"
        seen: set[Any] = set()
        for _ in range(40):
            try:
                seen.add((await bot.call("POST", path, {"content": "x"})).status)
            except aiohttp.ClientError:
                seen.add("reset")
        assert seen == {500, 502, 503, "reset"}
        assert len(Phone(server, "Ada Quill").see("news")) == faults.happened["reset after"] > 0


async def test_a_slow_answer_comes_after_the_act() -> None:
    async with faulty([kinds.SLOW], slow=1.0) as (server, bot, _):
        call = asyncio.create_task(
            bot.call("POST", f"/channels/{server.world.room('news').id}/messages", {"content": "x"})
        )
        await until(lambda: bool(server.world.room("news").messages))
        assert not call.done()
        assert (await call).status == 200


async def test_some_judges_close_their_direct_messages() -> None:
    async with faulty([kinds.CLOSED_DM], **{"closed-dm": 0.5}) as (server, _, faults):
        people = [server.world.add_person(f"Judge {n}") for n in range(20)]
        closed = faults.closed(people)
        assert 0 < len(closed) < 20
        assert [person.dms_open for person in people] == [person not in closed for person in people]


async def test_events_are_repeated_and_held_back() -> None:
    async with faulty([kinds.TWICE], twice=0.5) as (server, bot, faults):
        await bot.connect()
        await bot.call("POST", f"/channels/{server.world.room('news').id}/messages", {"components": [row(button())]})
        phone = Phone(server, "Ada Quill")
        acts = [phone.press(phone.see("news")[0], "Press") for _ in range(30)]
        for act in acts:
            act.begin()
        repeated = faults.happened["event repeated"]
        await until(lambda: len([1 for name, _ in bot.events if name == "INTERACTION_CREATE"]) == 30 + repeated)
        ids = [int(data["id"]) for name, data in bot.events if name == "INTERACTION_CREATE"]
    assert repeated > 0
    assert faults.happened["event held back"] > 0
    assert len(set(ids)) == 30, "nothing is lost"
    assert ids != sorted(ids), "and not all in order"


async def test_sockets_are_dropped_in_every_way() -> None:
    async with faulty([kinds.DROPS], drops=1.0) as (server, bot, faults):
        await bot.call("POST", f"/channels/{server.world.room('news').id}/messages", {"components": [row(button())]})
        phone = Phone(server, "Ada Quill")
        shown = phone.see("news")[0]
        for _ in range(25):
            async with WireBot(server) as client:
                await client.connect()
                phone.press(shown, "Press").begin()
                before = faults.happened.total()
                await until(lambda before=before: faults.happened.total() > before)  # type: ignore[misc]
        assert set(faults.happened) == {"cut", "half-open", "op 7", "op 9", "resume refused"}

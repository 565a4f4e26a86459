"""Rate limits: each bucket tells where it stands, and says no to the one too many."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from datetime import timedelta

import pytest

from deploy.rehearsal.server.class_server import Behaviour, ClassServer
from deploy.rehearsal.server.rate_limits import PLATFORM_WINDOW, Pace, Paces
from tests.rehearsal.conftest import START, small_class
from tests.rehearsal.wire import WireBot


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

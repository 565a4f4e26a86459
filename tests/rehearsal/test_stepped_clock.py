"""The shared clock: it stops wherever the bot asked for, and stands still in between."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta

import aiohttp
import pytest
from discord.utils import snowflake_time

from deploy.rehearsal.server.class_server import Behaviour, ClassServer
from deploy.rehearsal.server.stepped_clock import ClockStuck
from tests.rehearsal.conftest import START, small_class
from tests.rehearsal.wire import until

Wishes = Callable[[datetime], datetime | None]


@asynccontextmanager
async def listener(server: ClassServer, wishes: Wishes) -> AsyncIterator[list[datetime]]:
    """Listen to the clock as the bot does; `wishes` says when it wants to be woken next."""
    stops: list[datetime] = []

    async def listen(socket: aiohttp.ClientWebSocketResponse) -> None:
        async for message in socket:
            frame = json.loads(message.data)
            now = datetime.fromisoformat(frame["now"])
            stops.append(now)
            wanted = wishes(now)
            await socket.send_json({"settled": frame["step"], "next": wanted.isoformat() if wanted else None})

    async with aiohttp.ClientSession() as session, session.ws_connect(server.clock_address) as socket:
        task = asyncio.create_task(listen(socket))
        try:
            yield stops
        finally:
            task.cancel()
            await asyncio.gather(task, return_exceptions=True)


async def test_time_never_jumps_past_a_moment_the_bot_asked_for(server: ClassServer) -> None:
    bells = [START + timedelta(hours=hour) for hour in (1, 5, 9)]

    def wishes(now: datetime) -> datetime | None:
        return next((bell for bell in bells if bell > now), None)

    async with listener(server, wishes) as stops:
        await until(lambda: len(stops) == 1)
        await server.clock.step_to(START + timedelta(hours=6))
        assert list(dict.fromkeys(stops)) == [START, *bells[:2], START + timedelta(hours=6)]
        await server.clock.step_to(START + timedelta(days=2))
        assert bells[2] in stops
        assert server.clock.now == START + timedelta(days=2)


async def test_a_moment_in_which_nothing_is_due_is_told_and_neither_answered_nor_waited_for(
    server: ClassServer,
) -> None:
    bell, four, twelve = (START + timedelta(seconds=seconds) for seconds in (9, 4, 12))
    async with aiohttp.ClientSession() as session, session.ws_connect(server.clock_address) as socket:
        told: list[tuple[bool, datetime]] = []

        async def listen() -> None:
            async for message in socket:
                frame = json.loads(message.data)
                now = datetime.fromisoformat(frame["now"])
                told.append(("step" in frame, now))
                if "step" in frame:
                    wanted = bell.isoformat() if now < bell else None
                    await socket.send_json({"settled": frame["step"], "next": wanted})

        task = asyncio.create_task(listen())
        await until(lambda: len(told) == 1)
        await server.clock.settle()
        await server.clock.pass_to(four)
        assert server.clock.now == four
        # Something is due before then: it is waited for, and rung.
        await server.clock.pass_to(twelve)
        assert told[-3:] == [(False, four), (True, bell), (True, twelve)]
        task.cancel()
        await asyncio.gather(task, return_exceptions=True)


async def test_settling_does_not_move_time(server: ClassServer) -> None:
    async with listener(server, lambda now: None) as stops:
        await server.clock.settle()
        await server.clock.settle()
        assert set(stops) == {START}
        assert server.clock.now == START


async def test_work_that_becomes_due_at_the_same_instant_is_done_before_time_goes_on(server: ClassServer) -> None:
    left = [3]

    def wishes(now: datetime) -> datetime | None:
        left[0] -= 1
        return now if left[0] > 0 else None

    async with listener(server, wishes) as stops:
        await server.clock.step_to(START + timedelta(minutes=1))
        assert left[0] <= 0
        assert stops[-1] == START + timedelta(minutes=1)


async def test_a_bot_that_is_away_is_waited_for(server: ClassServer) -> None:
    async with listener(server, lambda now: None):
        await server.clock.settle()
    await until(lambda: not server.clock.connected)
    step = asyncio.create_task(server.clock.step_to(START + timedelta(hours=1)))
    await asyncio.sleep(0.1)
    assert not step.done()
    assert server.clock.now == START, "nobody knows yet when the bot wants to be woken"
    bell = START + timedelta(minutes=7)
    async with listener(server, lambda now: bell if now < bell else None) as stops:
        await asyncio.wait_for(step, 60)
        assert bell in stops
        assert server.clock.now == START + timedelta(hours=1)


async def test_a_bot_that_does_not_settle_is_reported() -> None:
    behaviour = Behaviour(patience_s=0.2)
    async with small_class(ClassServer(START, behaviour=behaviour)) as server, aiohttp.ClientSession() as session:
        async with session.ws_connect(server.clock_address) as socket:
            assert (await socket.receive_json())["step"] == 0
            with pytest.raises(ClockStuck, match="did not settle"):
                await server.clock.settle()
        await until(lambda: not server.clock.connected)
        with pytest.raises(ClockStuck, match="not connected"):
            await server.clock.settle()


async def test_a_bot_that_asks_for_the_past_for_ever_is_reported(server: ClassServer) -> None:
    async with listener(server, lambda now: START - timedelta(days=1)):
        with pytest.raises(ClockStuck, match="again and again"):
            await server.clock.step_to(START + timedelta(hours=1))


async def test_identifiers_carry_the_virtual_time(server: ClassServer) -> None:
    await server.clock.step_to(datetime(2027, 3, 1, 8, 0, 0, 500_000, tzinfo=UTC))
    numbers = [server.world.snowflakes.next() for _ in range(1000)]
    assert numbers == sorted(set(numbers))
    assert {snowflake_time(number) for number in numbers} == {datetime(2027, 3, 1, 8, 0, 0, 500_000, tzinfo=UTC)}

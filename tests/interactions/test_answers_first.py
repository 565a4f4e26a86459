"""Who waits for an answer is counted, and what can wait lets them go first, but not for ever."""

import asyncio

import pytest

from bot.interactions.answers_first import PLATFORM_WAITS_S, InFlight


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    now = [100.0]
    monkeypatch.setattr("bot.interactions.answers_first.time.monotonic", lambda: now[0])
    return now


async def goes_on_at_once(in_flight: InFlight) -> bool:
    waiting = asyncio.create_task(in_flight.answers_first())
    await asyncio.sleep(0)
    at_once = waiting.done()
    waiting.cancel()
    return at_once


async def test_while_one_press_follows_the_other_not_everything_that_can_wait_waits_again(clock: list[float]) -> None:
    in_flight = InFlight()
    assert await goes_on_at_once(in_flight)
    with in_flight.counted():
        assert not await goes_on_at_once(in_flight)
        clock[0] += PLATFORM_WAITS_S - 1
        with in_flight.counted():
            assert not await goes_on_at_once(in_flight)
            clock[0] += 1
            assert await goes_on_at_once(in_flight)
    with in_flight.counted():
        assert not await goes_on_at_once(in_flight), "after a moment in which nobody waited"

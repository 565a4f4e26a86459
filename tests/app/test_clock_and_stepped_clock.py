"""The clocks: the scheduler with real short delays, and the stepped one against a small server."""

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from aiohttp import web
from aiohttp.test_utils import TestServer

from bot.clock import LiveClock
from bot.stepped_clock import SteppedClock, open_stepped_clock
from tests.rehearsal.wire import until

START = datetime(2026, 3, 2, 15, 30, tzinfo=UTC)


async def nothing() -> None:
    return None


async def test_the_live_clock_wakes_at_the_wished_instant() -> None:
    async with LiveClock() as clock:
        rung: asyncio.Future[datetime] = asyncio.get_running_loop().create_future()
        clock.on_wake(lambda: rung.set_result(clock.now()))
        wished = clock.now() + timedelta(milliseconds=80)
        clock.wake_at(wished)
        assert await asyncio.wait_for(rung, 60) >= wished


async def test_a_later_wish_replaces_the_earlier_one_and_none_withdraws_it() -> None:
    async with LiveClock() as clock:
        rung: list[datetime] = []
        first = asyncio.Event()

        def ring() -> None:
            rung.append(clock.now())
            first.set()

        clock.on_wake(ring)
        clock.wake_at(clock.now() + timedelta(milliseconds=30))
        wished = clock.now() + timedelta(milliseconds=120)
        clock.wake_at(wished)
        await asyncio.wait_for(first.wait(), 60)
        assert len(rung) == 1 and rung[0] >= wished
        clock.wake_at(clock.now() + timedelta(milliseconds=30))
        clock.wake_at(None)
        await asyncio.sleep(0.15)
        assert len(rung) == 1


async def test_an_instant_that_has_passed_rings_at_once() -> None:
    async with LiveClock() as clock:
        rung = asyncio.Event()
        clock.on_wake(rung.set)
        clock.wake_at(clock.now() - timedelta(days=3))
        await asyncio.wait_for(rung.wait(), 60)


async def test_a_clock_that_may_not_sleep_long_still_wakes_only_when_it_is_time(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(LiveClock, "LONGEST_SLEEP", timedelta(milliseconds=20))
    async with LiveClock() as clock:
        rung: list[datetime] = []
        first = asyncio.Event()

        def ring() -> None:
            rung.append(clock.now())
            first.set()

        clock.on_wake(ring)
        wished = clock.now() + timedelta(milliseconds=150)
        clock.wake_at(wished)
        await asyncio.wait_for(first.wait(), 60)
        assert len(rung) == 1 and rung[0] >= wished, "several short sleeps, one ring"


async def test_a_wish_made_while_the_clock_rings_is_never_dropped_however_near_it_is() -> None:
    async with LiveClock() as clock:
        rung = 0
        enough = asyncio.Event()

        def ring() -> None:
            nonlocal rung
            rung += 1
            if rung == 20:
                enough.set()
            else:
                clock.wake_at(clock.now() - timedelta(microseconds=rung))

        clock.on_wake(ring)
        clock.wake_at(clock.now())
        await asyncio.wait_for(enough.wait(), 60)


async def test_wishes_made_beside_rings_that_follow_each_other_at_once_are_not_dropped_either() -> None:
    async with LiveClock() as clock:
        wishes = 0
        rung = asyncio.Event()

        def wish() -> None:
            nonlocal wishes
            wishes += 1
            rung.clear()
            clock.wake_at(clock.now() - timedelta(microseconds=wishes))

        def ring() -> None:
            rung.set()
            if wishes < 8:
                wish()

        async def wish_again_after(turns: int) -> None:
            wish()
            for _ in range(turns):
                await asyncio.sleep(0)
            wish()

        clock.on_wake(ring)
        await asyncio.gather(wish_again_after(1), wish_again_after(2))
        await asyncio.wait_for(rung.wait(), 60)


class Server:
    """A clock on loopback: tells steps, keeps what the program answered."""

    def __init__(self) -> None:
        self.answers: asyncio.Queue[dict[str, Any]] = asyncio.Queue()
        self.step = 1
        self.now = START
        self.socket: web.WebSocketResponse | None = None
        self.connections = 0

    async def serve(self, request: web.Request) -> web.WebSocketResponse:
        self.connections += 1
        self.socket = socket = web.WebSocketResponse()
        await socket.prepare(request)
        await self.tell()
        async for frame in socket:
            self.answers.put_nowait(json.loads(frame.data))
        return socket

    async def tell(self) -> None:
        assert self.socket is not None
        await self.socket.send_str(json.dumps({"step": self.step, "now": self.now.isoformat()}))

    async def advance(self, address: datetime) -> None:
        self.step, self.now = self.step + 1, address
        await self.tell()

    async def answer(self) -> dict[str, Any]:
        return await asyncio.wait_for(self.answers.get(), 60)


@asynccontextmanager
async def stepping() -> AsyncIterator[tuple[Server, str]]:
    server = Server()
    application = web.Application()
    application.router.add_get("/clock", server.serve)
    async with TestServer(application) as running:
        yield server, f"ws://127.0.0.1:{running.port}/clock"


async def test_the_stepped_clock_tells_the_time_before_anything_else_runs() -> None:
    async with stepping() as (server, url), open_stepped_clock(url) as clock:
        assert clock.now() == START
        assert server.answers.empty()


async def test_a_step_is_settled_only_after_everything_is_quiet() -> None:
    async with stepping() as (server, url), SteppedClock(url) as clock:
        await clock.started()
        still, woken = asyncio.Event(), 0

        def wake() -> None:
            nonlocal woken
            woken += 1

        async def quiet() -> None:
            await still.wait()
            clock.wake_at(START + timedelta(hours=1))

        clock.on_wake(wake)
        clock.settle_with(quiet)
        await asyncio.sleep(0.05)
        assert server.answers.empty()
        still.set()
        assert await server.answer() == {"settled": 1, "next": "2026-03-02T16:30:00.000000+00:00"}
        await server.advance(START + timedelta(minutes=59))
        assert (await server.answer())["settled"] == 2
        assert woken == 0
        await server.advance(START + timedelta(hours=2))
        await server.answer()
        assert woken == 1 and clock.now() == START + timedelta(hours=2)


async def test_a_moment_that_passes_is_taken_over_and_not_answered() -> None:
    async with stepping() as (server, url), SteppedClock(url) as clock:
        await clock.started()
        clock.settle_with(nothing)
        await server.answer()
        assert server.socket is not None
        moment = START + timedelta(seconds=7)
        await server.socket.send_str(json.dumps({"now": moment.isoformat()}))
        await until(lambda: clock.now() == moment)
        await server.advance(START + timedelta(seconds=8))
        assert (await server.answer())["settled"] == 2
        assert server.answers.empty()


async def test_a_lost_connection_is_made_again_and_the_step_settled() -> None:
    async with stepping() as (server, url), SteppedClock(url) as clock:
        await clock.started()
        clock.settle_with(nothing)
        await server.answer()
        assert server.socket is not None
        await server.socket.close()
        assert await server.answer() == {"settled": 1, "next": None}
        assert server.connections == 2


async def test_a_clock_that_is_gone_for_good_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(SteppedClock, "TRIES", 2)
    async with stepping() as (server, url), SteppedClock(url) as clock:
        await clock.started()
        clock.settle_with(nothing)
        await server.answer()
        clock._url = "ws://127.0.0.1:1/clock"
        assert server.socket is not None
        await server.socket.close()
        await asyncio.wait_for(clock.lost(), 60)


async def test_no_clock_at_the_address_is_said_plainly(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(SteppedClock, "TRIES", 1)
    with pytest.raises(ConnectionError, match="no clock answers"):
        async with open_stepped_clock("ws://127.0.0.1:1/clock"):
            pass


@pytest.mark.parametrize("url", ["ws://192.0.2.1:80/clock", "wss://127.0.0.1/clock", "http://localhost/", "nonsense"])
def test_a_clock_elsewhere_is_refused(url: str) -> None:
    with pytest.raises(ValueError, match="on this machine"):
        SteppedClock(url)


async def test_nightly_jobs_run_in_stepped_nights_and_a_failing_one_stops_nothing() -> None:
    """Ten past three in New York is 08:10 UTC before the clock change of 8 March 2026 and 07:10 after (IANA data)."""
    async with stepping() as (server, url), SteppedClock(url) as clock:
        await clock.started()
        ran: list[datetime] = []

        async def job() -> None:
            ran.append(clock.now())
            raise RuntimeError

        clock.every_night(time(3, 10), job, ZoneInfo("America/New_York"))
        clock.settle_with(nothing)
        assert (await server.answer())["next"] == "2026-03-03T08:10:00.000000+00:00"
        await server.advance(datetime(2026, 3, 3, 8, 10, tzinfo=UTC))
        assert (await server.answer())["next"] == "2026-03-04T08:10:00.000000+00:00"
        await server.advance(datetime(2026, 3, 7, 12, tzinfo=UTC))
        assert (await server.answer())["next"] == "2026-03-08T07:10:00.000000+00:00"
        assert ran == [datetime(2026, 3, 3, 8, 10, tzinfo=UTC), datetime(2026, 3, 7, 12, tzinfo=UTC)]


async def test_nightly_jobs_are_cron_jobs_of_the_live_clock() -> None:
    async with LiveClock() as clock:
        clock.every_night(time(3, 10), nothing, ZoneInfo("America/New_York"))
        (job,) = clock._scheduler.get_jobs()
        upcoming = job.next_run_time.astimezone(ZoneInfo("America/New_York"))
        assert (upcoming.hour, upcoming.minute) == (3, 10)


@pytest.mark.parametrize("named", ["Europe/Berlin", ":Europe/Berlin"])
@pytest.mark.parametrize(
    ("day_before", "nights"),
    [
        (datetime(2026, 10, 23, 12, tzinfo=UTC), ["24 01:30", "25 02:30", "26 02:30"]),
        (datetime(2027, 3, 26, 12, tzinfo=UTC), ["27 02:30", "28 01:30", "29 01:30"]),
    ],
    ids=["autumn", "spring"],
)
async def test_half_past_three_of_the_machine_stays_so_when_its_clocks_change(
    monkeypatch: pytest.MonkeyPatch, named: str, day_before: datetime, nights: list[str]
) -> None:
    """Berlin: from UTC+2 to UTC+1 on 25 October 2026 at 01:00 UTC, and back on 28 March 2027 (IANA data)."""
    monkeypatch.setenv("TZ", named)
    async with LiveClock() as clock:
        clock.every_night(time(3, 30), nothing, clock.own_zone())
        (job,) = clock._scheduler.get_jobs()
        found, last = [], day_before
        for _ in nights:
            last = job.trigger.get_next_fire_time(last, last + timedelta(seconds=1)).astimezone(UTC)
            found.append(f"{last:%d %H:%M}")
    assert found == nights


@pytest.mark.parametrize("named", ["EST5EDT4,M3.2.0,M11.1.0", "../../nowhere", "Mars/Olympus"])
def test_a_machine_whose_zone_has_no_name_keeps_its_offset_of_now(monkeypatch: pytest.MonkeyPatch, named: str) -> None:
    now = datetime.now().astimezone()
    monkeypatch.setenv("TZ", named)
    assert LiveClock().own_zone().utcoffset(now) == now.utcoffset()

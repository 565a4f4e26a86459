"""Delivery as a whole: on the machine's own clock, on a stepped one, starting, stopping and standing still."""

import asyncio
from datetime import datetime, timedelta

import pytest

from bot.actions.core.scheduled_jobs import job
from bot.clock import LiveClock
from bot.delivery.delivery_loop import DeliveryLoop
from bot.delivery.delivery_worker import at_once
from bot.interactions.answers_first import InFlight
from bot.stepped_clock import SteppedClock
from deploy.rehearsal.world.api_errors import Json
from storage.records.message import Message
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import outbox, scheduled_jobs
from storage.tables.sql_session import Transaction
from tests.app.test_clock_and_stepped_clock import stepping
from tests.delivery.server_view import NEWS, SENDING, SIGNUP, START, once, refusal
from tests.delivery.tryout_on_loopback import Town


@pytest.fixture(autouse=True)
def reminders(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bot.actions.core.scheduled_jobs.JOB_TYPES", {})

    @job("remind")
    async def remind(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
        await outbox.enqueue(db, tryout.id, "news", Message(text=row.key), now)


async def plan(place: Town, key: str, at: datetime) -> None:
    async with place.store.write() as db:
        await scheduled_jobs.schedule_job(db, place.tryout_id, "remind", key, at)


async def test_on_the_machines_own_clock_it_wakes_by_itself(place: Town) -> None:
    async with LiveClock() as clock, DeliveryLoop(place.client, place.store, clock) as opened:
        place.store.on_commit(opened.wake)
        begun = clock.now()
        await plan(place, "soon", begun + timedelta(milliseconds=300))
        await plan(place, "tomorrow", begun + timedelta(days=1))
        place.wire.before = once(refusal(503, 0))
        async with asyncio.timeout(60):
            while not place.wire.texts(NEWS):  # noqa: ASYNC110 - the class server has no event
                await asyncio.sleep(0.01)
        # Rung after 0.3 s, refused once by the server, and tried again a second later: never sooner.
        assert clock.now() - begun >= timedelta(seconds=1.3)
        await opened.quiet()
        assert opened.next_wake() == begun + timedelta(days=1)


async def test_on_a_stepped_clock_each_step_is_settled_when_everything_is_sent(place: Town) -> None:
    async with stepping() as (server, url), SteppedClock(url) as clock:
        server.now = START
        await clock.started()
        await plan(place, "first", START + timedelta(hours=1))
        await plan(place, "second", START + timedelta(hours=3))
        async with DeliveryLoop(place.client, place.store, clock) as opened:
            place.store.on_commit(opened.wake)
            clock.settle_with(opened.quiet)
            for key, hours in (("first", 1), ("second", 3)):
                wish = (await server.answer())["next"]
                assert datetime.fromisoformat(wish) == START + timedelta(hours=hours)
                await server.advance(datetime.fromisoformat(wish))
                while server.answers.empty():  # noqa: ASYNC110 - the answer must stay in the queue
                    await asyncio.sleep(0.001)
                assert place.wire.texts(NEWS)[-1] == key, "sent before the step was settled"
            assert (await server.answer())["next"] is None


async def test_with_one_lane_everything_is_sent_in_the_order_in_which_it_was_written(place: Town) -> None:
    wanted = [("news" if number % 3 else "signup", f"message {number}") for number in range(12)]
    for address, text in wanted:
        await place.queue(address, text)
    async with place.post(lanes=1) as opened:
        await opened.quiet()
    sent = [body["content"] for route, body in place.wire.log if route == SENDING]
    assert sent == [text for address, text in wanted if address == "signup"] + [
        text for address, text in wanted if address == "news"
    ]


async def test_stopping_gives_up_what_hangs_for_an_hour_and_loses_nothing(place: Town) -> None:
    outbox_id = await place.queue("news", "hello")
    arrived = asyncio.Event()

    async def hang(route: str, body: Json) -> None:
        arrived.set()
        await place.wire.ended.wait()

    place.wire.after = hang
    async with asyncio.timeout(60), place.post():
        await arrived.wait()
    assert (await place.outgoing(outbox_id)).state == "claimed"
    place.wire.after = None
    await place.deliver()
    assert place.wire.texts(NEWS) == ["hello"]


async def test_two_addresses_that_share_a_channel_never_mistake_each_others_words(place: Town) -> None:
    place.wire.nonces(remembered=False)
    async with place.store.write() as db:
        await db.run("""UPDATE tryout SET rooms_json = json_set(rooms_json, '$.signup', ?)""", NEWS)
    for _ in range(2):
        for address in ("news", "signup"):
            await place.queue(address, "the very same words")
    kills = iter((2, 1, 3, 2))

    for at in kills:
        left = at

        def fatal(request: str) -> bool:
            nonlocal left
            left -= 1
            return left == 0

        await place.run_until_killed(True, fatal, timedelta(minutes=5))
    await place.deliver(within=timedelta(minutes=10))
    assert place.wire.texts(NEWS) == ["the very same words"] * 4
    assert place.wire.texts(SIGNUP) == []
    async with place.store.read() as snapshot:
        assert await outbox.heads(snapshot) == []


async def test_a_message_that_is_looked_for_is_not_mistaken_for_one_that_is_being_sent(place: Town) -> None:
    async with place.store.write() as db:
        await db.run("""UPDATE tryout SET rooms_json = json_set(rooms_json, '$.signup', ?)""", NEWS)
    first = await place.queue("signup", "the very same words")
    assert await place.run_until_killed(False, lambda request: request == SENDING, timedelta(0))
    second = await place.queue("news", "the very same words")

    async def slow_look(route: str, body: Json) -> None:
        if route.startswith("GET"):
            await asyncio.sleep(0.2)

    async def slow_answer(route: str, body: Json) -> None:
        if route.startswith("POST"):
            await asyncio.sleep(0.4)

    place.wire.before, place.wire.after = slow_look, slow_answer
    await place.deliver()
    assert place.wire.texts(NEWS) == ["the very same words"] * 2
    assert {(await place.outgoing(one)).state for one in (first, second)} == {"sent"}


async def test_standing_still_costs_no_request_and_quiet_returns_at_once(place: Town) -> None:
    async with place.post() as opened:
        async with asyncio.timeout(60):
            for _ in range(50):
                await opened.quiet()
    assert place.wire.requests.total() == 2, "the two of the login"


async def test_nothing_is_begun_once_we_stop_though_its_turn_has_come(place: Town) -> None:
    composed, turn = asyncio.Event(), asyncio.Event()

    async def answers_first() -> None:
        composed.set()
        await turn.wait()

    await place.queue(f"squad/{await place.squad('Sock Sorters', 12)}", "hello")
    before = len(place.wire.log)
    async with DeliveryLoop(place.client, place.store, place.clock, waiting=(at_once, answers_first)) as opened:
        await composed.wait()
        stopping = asyncio.create_task(opened.stop())
        for _ in range(50):
            await asyncio.sleep(0)
        turn.set()
        await stopping
    assert place.wire.log[before:] == []


async def test_what_can_wait_goes_after_whoever_waits_for_an_answer(place: Town) -> None:
    in_flight = InFlight()
    waiting = in_flight.answers_out, in_flight.answers_first
    async with DeliveryLoop(place.client, place.store, place.clock, waiting=waiting) as opened:
        place.store.on_commit(opened.wake)
        await opened.quiet()
        with in_flight.counted():
            await place.queue("news", "hello")
            quiet = asyncio.create_task(opened.quiet())
            for _ in range(50):
                await asyncio.sleep(0)
            assert place.wire.texts(NEWS) == []
        await quiet
    assert place.wire.texts(NEWS) == ["hello"]

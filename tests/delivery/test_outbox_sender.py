"""Outbox messages: in order, once each, and what becomes of those that do not get through."""

import asyncio
from datetime import timedelta

import pytest

import bot.actions.delivery.try_again  # noqa: F401 - registers the button
from deploy.rehearsal.world.api_errors import Json
from storage.records.message import Attachment
from tests.delivery.server_view import (
    LOOKING,
    MINUTES,
    NEWS,
    RESET,
    SENDING,
    SIGNUP,
    answer,
    once,
    refusal,
)
from tests.delivery.tryout_on_loopback import Town


async def test_messages_arrive_in_order_in_every_room(place: Town) -> None:
    for number in range(8):
        await place.queue("news", f"news {number}")
        await place.queue("signup", f"signup {number}")
    await place.deliver()
    assert place.wire.texts(NEWS) == [f"news {number}" for number in range(8)]
    assert place.wire.texts(SIGNUP) == [f"signup {number}" for number in range(8)]


async def test_rooms_are_served_side_by_side_but_not_all_at_once(place: Town) -> None:
    ids = [await place.squad(f"s{number}") for number in range(8)]
    await place.deliver()
    for squad_id in ids:
        await place.queue(f"squad/{squad_id}", "hello")
    now = most = 0
    four = asyncio.Event()

    async def count(route: str, body: Json) -> None:
        nonlocal now, most
        now += 1
        most = max(most, now)
        if most == 4:
            four.set()
        await asyncio.wait_for(four.wait(), 60)
        await asyncio.sleep(0.03)
        now -= 1

    place.wire.before = count
    await place.deliver()
    assert most == 4
    assert place.wire.requests[SENDING] == 8


async def test_one_room_that_hangs_does_not_hold_up_the_others(place: Town) -> None:
    await place.queue("news", "slow")
    other = await place.queue("signup", "quick")
    release = asyncio.Event()

    async def hang(route: str, body: Json) -> None:
        if body.get("content") == "slow":
            await release.wait()

    place.wire.before = hang
    async with place.post() as opened:
        async with asyncio.timeout(60):
            while (await place.outgoing(other)).state != "sent":  # noqa: ASYNC110 - the database has no event
                await asyncio.sleep(0.01)
        assert place.wire.texts(NEWS) == []
        release.set()
        await opened.quiet()
    assert place.wire.texts(NEWS) == ["slow"]


async def test_a_message_carries_its_files_and_its_own_nonce(place: Town) -> None:
    outbox_id = await place.queue("news", "see", files=(Attachment(name="a.png", data=b"PNG", alt="A"),))
    await place.deliver()
    (stands,) = place.wire.posts(NEWS)
    outgoing = await place.outgoing(outbox_id)
    assert [one.name for one in stands.files] == ["a.png"]
    assert stands.nonce == outgoing.nonce and len(outgoing.nonce) <= 25
    assert (outgoing.state, outgoing.message_id, outgoing.room_id) == ("sent", stands.id, NEWS)


@pytest.mark.parametrize("acted", [False, True], ids=["before the server acted", "after the server acted"])
async def test_a_server_error_never_doubles_and_never_loses(place: Town, acted: bool) -> None:
    place.wire.nonces(remembered=False)
    setattr(place.wire, "after" if acted else "before", once(refusal(503, 0), refusal(503, 0)))
    for number in range(3):
        await place.queue("news", f"news {number}", files=(Attachment(name="a.png", data=b"PNG"),))
    await place.queue("signup", "other")
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == ["news 0", "news 1", "news 2"]
    assert place.wire.texts(SIGNUP) == ["other"]


@pytest.mark.parametrize("acted", [False, True], ids=["before the server acted", "after the server acted"])
@pytest.mark.parametrize("tells_nonces", [False, True])
async def test_a_reset_connection_never_doubles_and_never_loses(place: Town, acted: bool, tells_nonces: bool) -> None:
    place.wire.nonces(told=tells_nonces)
    setattr(place.wire, "after" if acted else "before", once(RESET, RESET))
    for _ in range(3):
        await place.queue("news", "the very same words")
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == ["the very same words"] * 3


async def test_a_look_that_is_put_off_is_still_needed_afterwards(place: Town) -> None:
    place.wire.nonces(remembered=False)
    place.wire.after = once(RESET)
    haste = [answer({"message": "slow down"}, 429) for _ in range(2)]
    place.wire.before = once(*haste, route=LOOKING)
    await place.queue("news", "hello")
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == ["hello"]
    assert place.wire.requests[LOOKING] == 3


async def test_a_refusal_for_haste_is_waited_out_by_the_clock(place: Town) -> None:
    hasty = answer({"message": "slow down", "retry_after": 40.0}, 429, **{"Retry-After": "40"})
    place.wire.before = once(hasty, saying="hello")
    outbox_id = await place.queue("news", "hello")
    await place.queue("signup", "other")
    await place.deliver()
    outgoing = await place.outgoing(outbox_id)
    assert outgoing.state == "queued" and outgoing.not_before == place.clock.at + timedelta(seconds=40)
    assert place.clock.wish is None, "a post that has stopped wishes nothing"
    assert place.wire.texts(SIGNUP) == ["other"]
    await place.deliver(within=timedelta(seconds=39))
    assert place.wire.texts(NEWS) == []
    await place.deliver(within=timedelta(seconds=41))
    assert place.wire.texts(NEWS) == ["hello"]


async def test_a_short_rate_limit_is_waited_out_by_the_library(place: Town) -> None:
    place.wire.before = once(answer({"message": "", "retry_after": 0.05, "global": True}, 429, Via="1.1 proxy"))
    await place.queue("news", "hello")
    await place.deliver()
    assert place.wire.texts(NEWS) == ["hello"]


async def test_a_long_rate_limit_is_put_off_and_not_slept_out(place: Town) -> None:
    place.wire.before = once(answer({"message": "", "retry_after": 300.0, "global": False}, 429, Via="1.1 proxy"))
    outbox_id = await place.queue("news", "hello")
    await place.deliver()
    assert (await place.outgoing(outbox_id)).not_before == place.clock.at + timedelta(seconds=300)
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == ["hello"]


async def test_waiting_grows_with_every_try_up_to_five_minutes(place: Town) -> None:
    place.wire.before = once(*[refusal(503, 0) for _ in range(12)])
    outbox_id = await place.queue("news", "hello")
    waits = []
    async with place.post() as opened:
        await opened.quiet()
        while (await place.outgoing(outbox_id)).state != "sent":
            assert place.clock.wish is not None
            waits.append((place.clock.wish - place.clock.at).total_seconds())
            place.clock.move(place.clock.wish)
            await opened.quiet()
    assert waits == [1, 2, 4, 8, 16, 32, 64, 128, 256, 300, 300, 300]
    assert place.wire.texts(NEWS) == ["hello"]


async def test_a_message_that_is_too_late_is_skipped_with_the_reason(place: Town) -> None:
    late = await place.queue("news", "late", stale_after=place.clock.at + timedelta(minutes=30))
    just = await place.queue("news", "the next one is due", stale_after=place.clock.at + timedelta(hours=2))
    good = await place.queue("news", "good", stale_after=place.clock.at + timedelta(hours=3))
    place.clock.move(timedelta(hours=2))
    await place.deliver()
    for one in (late, just):
        assert ((await place.outgoing(one)).state, (await place.outgoing(one)).why) == ("skipped", "too-late")
    assert (await place.outgoing(good)).state == "sent"
    assert place.wire.texts(NEWS) == ["good"]


async def test_stopping_finishes_what_is_being_sent(place: Town) -> None:
    outbox_id = await place.queue("news", "one")
    await place.queue("news", "two")
    arrived = asyncio.Event()

    async def slow(route: str, body: Json) -> None:
        arrived.set()
        await asyncio.sleep(0.3)

    place.wire.before = slow
    async with place.post():
        await arrived.wait()
    assert (await place.outgoing(outbox_id)).state == "sent"
    assert place.wire.texts(NEWS) == ["one"], "the next one stays in the outbox"


async def test_a_disk_that_cannot_be_written_for_a_while_stops_nothing_for_good(place: Town) -> None:
    await place.queue("news", "hello")
    await place.store._writer.execute("PRAGMA query_only = ON")
    async with place.post() as opened:
        await opened.quiet()
        assert place.wire.texts(NEWS) == []
        await place.store._writer.execute("PRAGMA query_only = OFF")
        await place.settle(opened, MINUTES)
    assert place.wire.texts(NEWS) == ["hello"]

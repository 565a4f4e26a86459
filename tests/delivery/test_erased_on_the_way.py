"""A name that is erased while a message with it is on its way: the message arrives once, and then the name is gone."""

import asyncio
from datetime import timedelta

import pytest

from bot.words.privacy.erased_labels import ERASED
from deploy.rehearsal.server.platform_faults import Fault
from deploy.rehearsal.world.api_errors import Json
from storage.records.message import Button
from storage.tables import erase_person, purge_tryout
from tests.delivery.server_view import MINUTES, NEWS, RESET, answer, once, refusal
from tests.delivery.tryout_on_loopback import Town

NAME = "Zora Quillfeather"
SAID = f"{NAME} has joined."
CUT = "… has joined."


async def forget(place: Town) -> None:
    async with place.store.write() as db:
        await erase_person.forget_words(db, place.tryout_id, {NAME}, ERASED.name)


async def kept(place: Town) -> str:
    """Everything that the file holds of messages."""
    async with place.store.read() as db:
        return str([tuple(row) for row in await db.rows("SELECT message_json, redacted FROM outbox_message")])


async def erased_meanwhile(place: Town, whole: bool = False, then: Fault | None = None) -> None:
    """The name (or, on the last day, everything) is erased while the platform has not answered yet."""
    arrived, release = asyncio.Event(), asyncio.Event()

    async def hang(route: str, body: Json) -> Fault | None:
        if body.get("content") != SAID or release.is_set():
            return None
        arrived.set()
        await release.wait()
        return then

    place.wire.before = hang
    async with place.post() as opened:
        await arrived.wait()
        if whole:
            async with place.store.write() as db:
                await purge_tryout.purge(db, place.tryout_id, ERASED, place.clock.at)
        else:
            await forget(place)
        release.set()
        await place.settle(opened, MINUTES)


async def test_once_it_has_arrived_the_name_is_gone_from_the_file(place: Town) -> None:
    outbox_id = await place.queue("news", SAID, rows=((Button(key="squad.mine", label=NAME),),))
    await erased_meanwhile(place)
    assert place.wire.texts(NEWS) == [SAID], "what stands in the chat is for people to delete there"
    assert (await place.outgoing(outbox_id)).state == "sent"
    assert "Zora" not in await kept(place) and CUT in await kept(place)


async def test_the_same_on_the_last_day(place: Town) -> None:
    await place.queue("news", SAID)
    await erased_meanwhile(place, whole=True)
    assert place.wire.texts(NEWS) == [SAID]
    assert "joined" not in await kept(place)


@pytest.mark.parametrize("tells_nonces", [False, True])
async def test_one_that_may_have_arrived_is_found_again_by_the_name(place: Town, tells_nonces: bool) -> None:
    place.wire.nonces(remembered=False, told=tells_nonces)
    place.wire.after = once(RESET)
    await place.queue("news", SAID)
    await place.deliver()
    assert place.wire.texts(NEWS) == [SAID]
    await forget(place)
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == [SAID], "not a second time"
    assert "Zora" not in await kept(place)


async def test_one_that_has_not_arrived_is_sent_again_without_the_name(place: Town) -> None:
    place.wire.before = once(RESET)
    await place.queue("news", SAID)
    await place.deliver()
    assert place.wire.texts(NEWS) == []
    await forget(place)
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == [CUT]
    assert "Zora" not in await kept(place)


async def test_on_the_last_day_one_that_has_not_arrived_is_not_sent_again(place: Town) -> None:
    place.wire.before = once(RESET)
    outbox_id = await place.queue("news", SAID)
    await place.deliver()
    async with place.store.write() as db:
        await purge_tryout.purge(db, place.tryout_id, ERASED, place.clock.at)
    await place.deliver(within=MINUTES)
    assert place.wire.texts(NEWS) == []
    assert (await place.outgoing(outbox_id)).state == "skipped"
    assert "joined" not in await kept(place)


async def test_one_that_the_platform_refused_for_now_is_sent_again_without_the_name(place: Town) -> None:
    hasty = answer({"message": "slow down", "retry_after": 5.0}, 429, **{"Retry-After": "5"})
    await place.queue("news", SAID)
    await erased_meanwhile(place, then=hasty)
    assert place.wire.texts(NEWS) == [CUT]
    assert "Zora" not in await kept(place)


async def test_one_that_failed_and_is_tried_again_holds_everything_but_the_name(place: Town) -> None:
    place.wire.before = once(refusal(403, 50013))
    outbox_id = await place.queue("news", SAID)
    await place.deliver(within=timedelta(seconds=1))
    assert (await place.outgoing(outbox_id)).state == "failed"
    await forget(place)
    assert CUT in await kept(place) and "Zora" not in await kept(place)

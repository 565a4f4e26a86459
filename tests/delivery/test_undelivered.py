"""Outbox messages that do not get through: who is told, how often, and what happens once it is mended."""

from datetime import timedelta

import pytest

import bot.actions.delivery.try_again
import bot.actions.office.office
import bot.actions.office.server_channels  # noqa: F401 - registers the buttons
from bot.actions.core.dispatch import ACTIONS, perform
from bot.words.core.action_keys import ActionKey
from bot.words.delivery import undelivered as words
from deploy.rehearsal.server.platform_faults import Fault
from deploy.rehearsal.world.api_errors import Json
from storage.records.message import Say
from storage.records.request import Request
from storage.records.request import Room as PickedRoom
from tests.delivery.server_view import MINUTES, NEWS, OFFICE, OPENING_ROOM, SENDING, SIGNUP, answer, once, refusal
from tests.delivery.tryout_on_loopback import Town


def coach_asks(place: Town) -> Request:
    server_id = place.wire.world.guild_id
    return Request(id=1, at=place.clock.at, who=100, name="Coach", server_id=server_id, manages_server=True)


@pytest.mark.parametrize(
    ("status", "code", "cause"),
    [(403, 50013, "forbidden"), (403, 50001, "forbidden"), (404, 10003, "gone"), (400, 50035, "refused")],
)
async def test_what_cannot_be_delivered_is_told_once_and_the_rest_goes_on(
    place: Town, status: int, code: int, cause: str
) -> None:
    async def refuse(route: str, body: Json) -> Fault | None:
        return refusal(status, code) if body.get("content", "").startswith("bad") else None

    place.wire.before = refuse
    bad = [await place.queue("news", f"bad {number}") for number in range(3)]
    await place.queue("news", "good")
    await place.queue("signup", "other")
    await place.deliver(within=MINUTES)
    assert [(await place.outgoing(outbox_id)).state for outbox_id in bad] == ["failed"] * 3
    assert (await place.outgoing(bad[0])).why == cause
    assert place.wire.texts(NEWS) == ["good"] and place.wire.texts(SIGNUP) == ["other"]
    assert place.told() == [words.trouble(cause, f"the news channel <#{NEWS}>").text]
    assert place.wire.requests[SENDING] == 6, "nothing that was refused is tried again"


async def test_the_coach_is_told_again_when_a_mended_trouble_comes_back(place: Town) -> None:
    place.wire.before = once(refusal(403, 50013))
    await place.queue("news", "one")
    await place.deliver()
    await place.queue("news", "two")
    await place.deliver()
    place.wire.before = once(refusal(403, 50013))
    await place.queue("news", "three")
    await place.deliver()
    assert place.wire.texts(NEWS) == ["two"]
    assert len(place.told()) == 2


async def test_what_failed_is_delivered_in_order_once_the_coach_has_mended_it(place: Town) -> None:
    """The button stands below what the coach was told."""

    async def closed(route: str, body: Json) -> Fault | None:
        return refusal(403, 50013) if body.get("content", "").startswith("news") else None

    place.wire.before = closed
    late = await place.queue("news", "news 0", stale_after=place.clock.at + timedelta(minutes=5))
    await place.queue("news", "news 1")
    await place.queue("news", "news 2")
    await place.deliver()
    place.wire.before = None
    place.clock.move(MINUTES)
    (told,) = place.wire.posts(OFFICE)
    pressed = told.components[0]["components"][0]["custom_id"]
    request = coach_asks(place)
    answer = await perform(place.store, ACTIONS[pressed], request)
    assert isinstance(answer, Say) and "2 messages" in answer.message.text
    await place.queue("news", "news 3")
    await place.deliver()
    assert place.wire.texts(NEWS) == ["news 1", "news 2", "news 3"]
    assert (await place.outgoing(late)).state == "failed"
    refused = await perform(
        place.store, ACTIONS[pressed], request.model_copy(update={"id": 2, "manages_server": False})
    )
    assert isinstance(refused, Say) and "Only a coach" in refused.message.text


async def test_trouble_with_the_office_itself_tells_nobody_and_never_goes_round(place: Town) -> None:
    del place.wire.world.rooms[OFFICE]
    outbox_id = await place.queue("office", "hello")
    await place.deliver(within=MINUTES)
    assert (await place.outgoing(outbox_id)).state == "failed"
    assert place.wire.requests[SENDING] == 1


async def test_a_mistake_of_ours_is_tried_a_few_times_then_told_with_its_code(
    place: Town, caplog: pytest.LogCaptureFixture
) -> None:
    async def nonsense(route: str, body: Json) -> Fault | None:
        return answer({"no": "message"}) if body.get("content") == "private words" else None

    place.wire.before = nonsense
    outbox_id = await place.queue("news", "private words")
    await place.queue("signup", "other")
    await place.deliver(within=MINUTES)
    outgoing = await place.outgoing(outbox_id)
    assert outgoing.state == "failed" and outgoing.why.startswith("fault ")
    assert place.wire.requests[SENDING] == 5 + 1 + 1
    (told,) = place.told()
    assert outgoing.why.removeprefix("fault ") in told
    assert "private words" not in caplog.text


async def test_a_lost_office_is_no_end_what_failed_stands_in_the_office_and_goes_out_once_a_channel_is_chosen(
    place: Town,
) -> None:
    """The trouble message failed with the office: only `/office` can tell, and choosing the channels mends it."""
    await place.officer(100)
    for room in (NEWS, OFFICE):
        del place.wire.world.rooms[room]
    await place.queue("news", "the announcement")
    await place.queue("office", "for the coach")
    await place.deliver(within=MINUTES)
    ask = coach_asks(place)
    shown = await perform(place.store, ACTIONS[ActionKey.OFFICE], ask)
    assert isinstance(shown, Say) and "did not get through" in shown.message.text
    assert any(part.label == "Try again" for row in shown.message.rows if isinstance(row, tuple) for part in row)
    place.wire.channel(901), place.wire.channel(902)
    for number, (kind, room) in enumerate((("news", 901), ("office", 902)), start=2):
        chosen = ask.model_copy(
            update={"id": number, "args": (kind,), "values": (str(room),), "rooms": (PickedRoom(id=room, name=kind),)}
        )
        await perform(place.store, ACTIONS[ActionKey.SETUP_ROOM], chosen)
    place.clock.move(MINUTES)
    await place.deliver()
    assert place.wire.texts(901) == ["the announcement"]
    assert "for the coach" in place.wire.texts(902)
    again = await perform(place.store, ACTIONS[ActionKey.OFFICE], ask.model_copy(update={"id": 9}))
    assert isinstance(again, Say) and "did not get through" not in again.message.text


async def test_try_again_does_not_wait_for_the_end_of_the_pause(place: Town) -> None:
    await place.officer(100)
    squad_id = await place.squad("Mud Larks", 1)
    refusals = [refusal(403, 50013) for _ in range(2)]
    place.wire.before = once(*refusals, route=OPENING_ROOM)
    async with place.post() as opened:
        await place.settle(opened)
        async with place.store.read() as db:
            assert await db.value("SELECT room_id FROM squad WHERE id = ?", squad_id) is None
        request = coach_asks(place)
        place.wire.before = None
        await perform(place.store, ACTIONS[ActionKey.POST_AGAIN], request)
        await place.settle(opened)
        assert place.wire.members(await place.room_id(squad_id)) == {1, 100}

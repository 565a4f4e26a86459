"""Judges: direct messages, and the private room that stands in for them."""

import pytest

from bot.actions.core.live_messages import live_message
from bot.actions.delivery import direct_messages
from bot.words.delivery import undelivered as words
from storage.records.message import Message
from storage.records.tryout import Tryout
from storage.tables import judges
from storage.tables.sql_session import Snapshot
from tests.delivery.server_view import MINUTES, OPENING_DIRECT, SENDING, SQUADS, once, refusal
from tests.delivery.tryout_on_loopback import Town


@pytest.fixture(autouse=True)
def composers(monkeypatch: pytest.MonkeyPatch) -> None:
    """One kind of live message, for these checks only."""
    monkeypatch.setattr("bot.actions.core.live_messages.COMPOSERS", {})

    @live_message("judge")
    async def compose(db: Snapshot, tryout: Tryout, key: str) -> Message:
        return Message(text=f"list of {key}")


async def test_direct_messages_are_opened_once_and_noted(place: Town) -> None:
    judge_id = await place.judge(70)
    await place.queue(f"judge/{judge_id}", "one")
    await place.place(f"judge/{judge_id}", f"judge/{judge_id}")
    await place.deliver()
    await place.queue(f"judge/{judge_id}", "two")
    await place.deliver()
    direct = place.wire.direct(70)
    assert place.wire.direct_texts(70) == ["one", f"list of judge/{judge_id}", "two"]
    assert place.wire.requests[OPENING_DIRECT] == 1
    async with place.store.read() as db:
        judge = await judges.judge(db, judge_id)
    assert judge is not None and judge.direct_id == direct


@pytest.mark.parametrize("opened_before", [False, True], ids=["when opening", "when sending"])
async def test_a_judge_with_closed_messages_gets_everything_in_a_private_room(place: Town, opened_before: bool) -> None:
    judge_id = await place.judge(70)
    address = f"judge/{judge_id}"
    if opened_before:
        await place.queue(address, "before")
        await place.place(address, address)
        await place.deliver()
    if opened_before:
        place.wire.person(70).dms_open = False
    else:
        place.wire.before = once(refusal(403, 50007), route=OPENING_DIRECT)
    await place.queue(address, "one")
    await place.queue(address, "two")
    await place.place(address, address)
    await place.queue("news", "others go on")
    await place.deliver(within=MINUTES)
    (room,) = place.wire.rooms_of_judges()
    assert place.wire.texts(room) == ["one", "two", f"list of {address}"]
    assert place.wire.members(room) == {70}
    assert place.wire.world.rooms[room].parent_id == SQUADS
    assert place.wire.world.rooms[room].name == "judge Judge 70"
    assert place.told() == [words.trouble("closed", "judge Judge 70").text]
    await place.queue(address, "three")
    await place.deliver()
    assert place.wire.texts(room)[-1] == "three"
    assert len(place.told()) == 1


async def test_a_judge_who_opens_messages_again_gets_them_there_again(place: Town) -> None:
    judge_id = await place.judge(70)
    address = f"judge/{judge_id}"
    place.wire.person(70).dms_open = False
    await place.place(address, address)
    await place.deliver()
    (room,) = place.wire.rooms_of_judges()
    place.wire.person(70).dms_open = True
    async with place.store.write() as db:
        await direct_messages.take_again(db, place.tryout_id, judge_id)
    await place.queue(address, "welcome back")
    await place.deliver(within=MINUTES)
    assert place.wire.direct_texts(70) == ["welcome back", f"list of {address}"]
    assert place.wire.texts(room) == [], "the list has moved"


async def test_a_refused_direct_message_is_not_tried_again(place: Town) -> None:
    judge_id = await place.judge(70)
    place.wire.before = once(*[refusal(403, 50007) for _ in range(9)], route=OPENING_DIRECT)
    async with place.store.write() as db:
        await db.run("""UPDATE tryout SET rooms_json = '{"office": 53}'""")
    await place.queue(f"judge/{judge_id}", "one")
    await place.deliver(within=MINUTES)
    assert place.wire.requests[OPENING_DIRECT] == 1
    assert place.wire.requests[SENDING] == 1, "only the office was written to"


async def test_opening_messages_too_fast_is_waited_out(place: Town) -> None:
    judge_id = await place.judge(70)
    place.wire.before = once(refusal(403, 40003), route=OPENING_DIRECT)
    await place.queue(f"judge/{judge_id}", "one")
    await place.deliver()
    assert place.wire.direct(70) is None and place.told() == []
    await place.deliver(within=MINUTES)
    assert place.wire.direct_texts(70) == ["one"]

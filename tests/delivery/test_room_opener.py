"""Private rooms of squads are opened once, whatever the network does, and woken where they sleep."""

import pytest

from storage.tables import squads
from tests.delivery.server_view import MINUTES, OPENING_ROOM, RESET, SQUADS, once, refusal
from tests.delivery.tryout_on_loopback import Town


def names(place: Town) -> list[str]:
    return sorted(thread.name for thread in place.wire.threads())


async def test_a_squad_gets_a_private_room_with_its_people_and_coaches_and_no_scorekeeper(place: Town) -> None:
    await place.officer(100)
    await place.officer(101, "scorekeeper")
    squad_id = await place.squad("Mud Larks", 1, 2)
    await place.queue(f"squad/{squad_id}", "welcome")
    await place.deliver()
    room = await place.room_id(squad_id)
    opening = next(body for route, body in place.wire.log if route == OPENING_ROOM)
    assert opening["type"] == 12 and opening["invitable"] is False and opening["auto_archive_duration"] == 10080
    assert place.wire.world.rooms[room].name == "squad 1 - Mud Larks"
    assert place.wire.world.rooms[room].parent_id == SQUADS
    assert place.wire.members(room) == {1, 2, 100}
    assert place.wire.texts(room) == ["welcome"]
    assert place.wire.requests["GET /channels/{channel_id}"] == 1, "the channel above it; opening it has told the rest"
    before = place.wire.requests.total()
    await place.deliver(within=MINUTES)
    assert place.wire.requests.total() == before, "what is as it should be costs no request"


async def test_a_locked_room_is_opened_for_a_message(place: Town) -> None:
    squad_id = await place.squad("Mud Larks")
    await place.deliver()
    room = await place.room_id(squad_id)
    place.wire.world.rooms[room].put_away = place.wire.world.rooms[room].locked = True
    await place.queue(f"squad/{squad_id}", "hello")
    await place.deliver()
    assert place.wire.texts(room) == ["hello"]


async def test_a_room_that_cannot_be_opened_is_told_once_and_tried_again(place: Town) -> None:
    refusals = [refusal(403, 50013) for _ in range(3)]
    place.wire.before = once(*refusals, route=OPENING_ROOM)
    squad_id = await place.squad("Mud Larks", 1)
    await place.queue(f"squad/{squad_id}", "welcome")
    await place.queue("news", "others go on")
    await place.deliver(within=2 * MINUTES)
    assert len(place.told()) == 1 and "private threads" in place.told()[0]
    assert place.wire.texts(await place.room_id(squad_id)) == ["welcome"]


@pytest.mark.parametrize("acted", [False, True], ids=["before the server acted", "after the server acted"])
async def test_a_room_is_not_opened_twice_by_a_bad_network(place: Town, acted: bool) -> None:
    setattr(place.wire, "after" if acted else "before", once(RESET, RESET, route=OPENING_ROOM))
    for number in (1, 2, 3):
        await place.squad(f"S{number}", number)
    await place.deliver(within=MINUTES)
    assert names(place) == ["squad 1 - S1", "squad 2 - S2", "squad 3 - S3"]
    assert sorted(map(sorted, (place.wire.members(one.id) for one in place.wire.threads()))) == [[1], [2], [3]]


async def test_a_room_is_found_again_after_a_crash_even_if_the_squad_was_renamed(place: Town) -> None:
    squad_id = await place.squad("Mud Larks", 1)
    assert await place.run_until_killed(True, lambda request: request == OPENING_ROOM, MINUTES)
    assert (await place.room(squad_id)).room_id is None and len(place.wire.threads()) == 1
    async with place.store.write() as db:
        await squads.rename(db, squad_id, "Sky Larks", ("s", "s", "s"))
    await place.deliver(within=MINUTES)
    assert names(place) == ["squad 1 - Sky Larks"]
    assert place.wire.members(await place.room_id(squad_id)) == {1}

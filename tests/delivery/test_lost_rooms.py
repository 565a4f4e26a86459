"""Private rooms that somebody deleted: opened anew with everyone in them, and once an hour at most."""

from bot.words.delivery import undelivered as words
from tests.delivery.server_view import MINUTES
from tests.delivery.tryout_on_loopback import Town


async def test_a_deleted_room_is_opened_anew_with_everyone_in_it(place: Town) -> None:
    squad_id = await place.squad("Mud Larks", 1, 2)
    await place.deliver()
    first = await place.room_id(squad_id)
    del place.wire.world.rooms[first]
    await place.queue(f"squad/{squad_id}", "hello")
    await place.deliver(within=MINUTES)
    second = await place.room_id(squad_id)
    assert second != first and place.wire.members(second) == {1, 2}
    assert place.wire.texts(second) == ["hello"]
    assert place.told() == [words.trouble("reopened", "squad 1, Mud Larks").text]


async def test_a_private_room_that_was_deleted_is_opened_anew_once_an_hour(place: Town) -> None:
    judge_id = await place.judge(70)
    address = f"judge/{judge_id}"
    place.wire.person(70).dms_open = False
    await place.queue(address, "one")
    await place.deliver()
    (first,) = place.wire.rooms_of_judges()
    del place.wire.world.rooms[first]
    await place.queue(address, "two")
    await place.deliver(within=MINUTES)
    (second,) = place.wire.rooms_of_judges()
    assert place.wire.texts(second) == ["two"]
    assert place.told()[1:] == [words.trouble("reopened", "judge Judge 70").text]
    del place.wire.world.rooms[second]
    three = await place.queue(address, "three")
    await place.deliver()
    assert (await place.outgoing(three)).state == "failed"
    assert place.wire.rooms_of_judges() == []

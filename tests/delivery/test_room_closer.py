"""The private room of a squad that was taken out is emptied and put away."""

from bot.actions.squads.take_squad_out import take_out
from deploy.rehearsal.server.platform_faults import Fault
from deploy.rehearsal.world.api_errors import Json
from tests.delivery.server_view import MINUTES, refusal
from tests.delivery.tryout_on_loopback import Town


async def test_the_room_of_a_squad_that_withdrew_is_emptied_and_put_away(place: Town) -> None:
    await place.officer(100)
    squad_id = await place.squad("Mud Larks", 1)
    await place.deliver()
    room = await place.room_id(squad_id)
    async with place.store.write() as db:
        await take_out(db, squad_id)
    await place.deliver()
    state = place.wire.world.rooms[room]
    assert place.wire.members(room) == set()
    assert (state.put_away, state.locked) == (True, True)
    before = place.wire.requests.total()
    await place.deliver(within=MINUTES)
    assert place.wire.requests.total() == before


async def test_a_room_that_may_not_be_locked_is_archived_all_the_same(place: Town) -> None:
    squad_id = await place.squad("Mud Larks")
    await place.deliver()
    async with place.store.write() as db:
        await take_out(db, squad_id)

    async def no_lock(route: str, body: Json) -> Fault | None:
        return refusal(403, 50013) if body.get("locked") else None

    place.wire.before = no_lock
    await place.deliver()
    assert place.wire.world.rooms[await place.room_id(squad_id)].put_away


async def test_the_room_of_a_withdrawn_squad_that_was_deleted_is_left_in_peace(place: Town) -> None:
    squad_id = await place.squad("Mud Larks", 1)
    await place.deliver()
    del place.wire.world.rooms[await place.room_id(squad_id)]
    async with place.store.write() as db:
        await take_out(db, squad_id)
    await place.deliver(within=MINUTES)
    assert (await place.room(squad_id)).room_closed and place.told() == []

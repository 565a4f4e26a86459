"""A squad's private room follows the squad's name."""

from storage.tables import squads
from tests.delivery.tryout_on_loopback import Town


async def test_a_room_follows_the_squads_name(place: Town) -> None:
    squad_id = await place.squad("Mud Larks")
    await place.deliver()
    async with place.store.write() as db:
        await squads.rename(db, squad_id, "x" * 200, ("y", "y", "y"))
    await place.deliver()
    assert [thread.name for thread in place.wire.threads()] == [f"squad 1 - {'x' * 90}"]

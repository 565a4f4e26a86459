"""Whom squads meet in their interviews."""

from storage.tables import panels
from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import KEY, planned, slots


async def test_interviews_wait_until_judges_are_shared_out_where_not_all_see_all(begin: Begin) -> None:
    asking = await planned(begin, 4, judges=3)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await panels.set_size(db, tryout.id, "bunting", "bunting", 2)
        await panels.replace_seats(db, tryout.id, "bunting", "bunting", [])
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    said = await asking.message("day.make")
    assert "Share the judges out first" in said.text
    await asking.ask("panels.compute:bunting:bunting")
    await asking.ask("day.make")
    assert [len(slot.judges) for slot in await slots(asking, "interview")] == [2, 2, 2, 2]

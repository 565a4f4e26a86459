"""A run-off is for squads in a tie alone."""

from storage.tables import tryouts
from tests.actions.conftest import Begin, small_plan
from tests.actions.table_help import add_squads, enter, labels, press, standing


async def test_a_run_off_is_only_for_squads_in_a_tie_and_changes_no_total(begin: Begin) -> None:
    event = small_plan().events[0]
    asking = await begin("judging", events=(event,), tie_breaks=())
    squads = await add_squads(asking, 3)
    for squad, found in zip(squads, (14, 14, 3), strict=True):
        for number in (1, 2):
            await asking.ask(f"table.save:run.socks:{squad}:{number}:{found}:0")
    early = await asking.message(f"table.save:run.socks:{squads[0]}:r1:9:0")
    assert "A run-off comes after judging is closed" in early.text
    assert "Enter run-off" not in labels(await asking.message(f"table.squad:run.socks:{squads[0]}"))
    async with asking.store.write() as db:
        await tryouts.set_state(db, (await asking.tryout()).id, "settled")
    refused = await asking.message(f"table.save:run.socks:{squads[2]}:r1:9:0")
    assert "is in no tie" in refused.text or "has used all" in refused.text
    card = await asking.message(f"table.squad:run.socks:{squads[0]}")
    back = await enter(asking, card, "Enter run-off", **{"item-sock": "5"})
    assert "run-off 1" in back.text
    await press(asking, back, "Save")
    assert (await standing(asking))[-1] == f"{squads[0]} run.socks r1"

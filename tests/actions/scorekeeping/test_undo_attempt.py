"""Undoing an attempt: asked first, only the last one, and it stays on record."""

from storage.tables import attempts, audit_log
from tests.actions.conftest import Begin
from tests.actions.table_help import add_squads, at_squad, labels, press, standing


async def test_undo_asks_first_keeps_the_record_and_lets_the_squad_run_again(begin: Begin) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 1)
    await asking.ask(f"table.save:run.socks:{squads[0]}:1:14:0")
    card = await at_squad(asking, "run.socks", "1 Crooked Spoons")
    question = await press(asking, card, "Undo attempt 1 of 2")
    assert labels(question) == ["It was entered wrongly", "Our equipment failed: run again", "Keep it"]
    assert len(await standing(asking)) == 1
    gone = await press(asking, question, "Our equipment failed: run again")
    assert gone.text.startswith("Undone (our equipment failed, so the squad runs again).")
    assert await standing(asking) == []
    again = await press(asking, gone, "Enter it again")
    assert "Enter attempt 1 of 2" in labels(again)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        kept = await attempts.attempt(db, 1)
        entries = await audit_log.entries(db, tryout.id)
    assert kept is not None and kept.undone_at is not None
    assert entries[-1].details == {"squad": squads[0], "id": 1, "reason": "rerun"}


async def test_only_the_last_attempt_is_undone_and_only_once(begin: Begin) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 1)
    for number in (1, 2):
        await asking.ask(f"table.save:run.socks:{squads[0]}:{number}:{number}:0")
    assert "no longer the last one" in (await asking.message("table.undone:1:slip")).text
    await asking.ask("table.undone:2:slip")
    assert "no longer the last one" in (await asking.message("table.undone:2:slip")).text
    assert await standing(asking) == [f"{squads[0]} run.socks 1"]

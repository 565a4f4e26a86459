"""What is missing when the day is over, squad by squad, with the next step."""

from storage.records.message import Message
from tests.actions.conftest import Asking, Begin
from tests.actions.table_help import add_judges, add_squads, hand_in, labels


async def left(asking: Asking) -> Message:
    return await asking.message("day.left")


async def test_what_is_missing_is_told_squad_by_squad_with_the_next_step(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 2)
    judge_ids = await add_judges(asking, 1)
    said = await left(asking)
    assert "0 squads of 2 have everything." in said.text
    assert "**1 Crooked Spoons, 2 Muddy Teapots**: Sock run, Socks: 0 of 2 attempts" in said.text
    assert "Paper chain" not in said.text
    assert labels(said)[0] == "Table"
    for squad in (1, 2):
        await asking.ask(f"table.save:run.socks:{squad}:1:4:0")
        await asking.ask(f"table.save:bunting.members:{squad}:1:3")
    said = await left(asking)
    assert "1 of 2 attempts (may still be done)" in said.text
    assert "1 surprise waits to be started" in said.text
    await asking.ask("surprise.start:chain")
    for squad in (1, 2):
        await asking.ask(f"table.save:run.socks:{squad}:2:4:0")
        await asking.ask(f"table.save:chain.time:{squad}:1:-:0:90")
    said = await left(asking)
    assert "remind the judges" in said.text
    for squad in (1, 2):
        for event, measure, marks in (
            ("bunting", "bunting", {"reasons": 2, "theme": 2}),
            ("chain", "team", {"talk": 3}),
        ):
            async with asking.store.write() as db:
                await db.run("DELETE FROM sheet WHERE squad_id = ? AND event = ?", squad, event)
            await hand_in(asking, judge_ids[0], squad, event, measure, marks)
    said = await left(asking)
    assert "2 squads of 2 have everything." in said.text
    assert "everything is in" in said.text


async def test_what_a_large_class_lacks_stands_in_one_message_and_the_next_step_above_it(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 40)
    await asking.ask("table.save:run.socks:7:1:4:0")
    said = await left(asking)
    assert said.files == ()
    assert said.text.split("\n")[1].startswith("**Next:**")
    assert "- **7 Squad number 7**: Sock run, Socks: 1 of 2 attempts" in said.text
    assert all(f" {number} " in said.text or f"**{number} " in said.text for number in range(1, 41))

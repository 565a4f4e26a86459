"""A share that the bot counted itself: read back for all squads, saved in one press, and never something else."""

from tests.actions.conftest import Begin, button
from tests.actions.hand_in_cast import DEADLINE, add, window
from tests.actions.office_cast import until
from tests.actions.table_help import standing


async def test_all_squads_are_confirmed_in_one_press(begin: Begin) -> None:
    asking, crew, moles = await window(begin)
    for who in (1, 2, 3, 11):
        await add(asking, who)
    await until(asking, DEADLINE)
    squads = await asking.message("table.measure", values=("bunting.members",))
    back = await asking.message(button(squads, "Take all 2 as handed in").key)
    assert "- 1 Crooked Spoons: 3 of 3\n- 2 Muddy Teapots: 1 of 3 (part missing)\n" in back.text
    assert await standing(asking) == []
    saved = await asking.message(button(back, "Save all 2").key)
    assert saved.text.startswith("Saved for 2 squads.")
    assert await standing(asking) == [f"{crew} bunting.members 1", f"{moles} bunting.members 1"]
    assert "quicker" in (await asking.message(button(back, "Save all 2").key)).text
    assert "has its number" in (await asking.message("table.counted:bunting.members")).text


async def test_a_squad_that_has_its_number_keeps_it(begin: Begin) -> None:
    asking, crew, moles = await window(begin)
    await add(asking, 11)
    await until(asking, DEADLINE)
    await asking.ask(f"table.save:bunting.members:{crew}:1:2")
    back = await asking.message("table.counted:bunting.members")
    assert "Crooked Spoons" not in back.text
    await asking.ask(f"table.save:bunting.members:{moles}:1:3")
    assert "quicker" in (await asking.message(button(back, "Save all 1").key)).text
    assert len(await standing(asking)) == 2


async def test_what_the_bot_did_not_count_is_entered_one_by_one(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await until(asking, DEADLINE)
    assert "no such measure" in (await asking.message("table.counted:run.socks")).text

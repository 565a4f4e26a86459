"""A share: out of how many it is; one that the bot counted itself is read back for all squads, and saved at once."""

from storage.records.message import SelectField, TextField
from tests.actions.conftest import Begin, button
from tests.actions.hand_in_cast import DEADLINE, add, window
from tests.actions.office_cast import until
from tests.actions.table_help import add_squads, at_squad, enter, standing


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


async def test_members_who_contributed_are_counted_of_those_the_squad_has(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1, members=4)
    card = await at_squad(asking, "bunting.members", "1 Crooked Spoons")
    label = "Enter members who took part"
    assert "3 of 4 members took part" in (await enter(asking, card, label, contributing="3")).text
    assert "Members: 5 of 4 is not possible" in (await enter(asking, card, label, contributing="5")).text


async def test_the_table_proposes_the_members_with_a_part_and_saves_nothing_by_itself(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    for who in (1, 2):
        await add(asking, who)
    await until(asking, DEADLINE)
    (field,) = (await asking.form(f"table.form:bunting.members:{crew}:1")).fields
    assert isinstance(field, TextField) and field.value == "2"
    assert field.hint == "Of the squad's 3. 2 parts handed in: is that who took part?"
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM attempt") == 0
    again = await asking.form(f"table.form:bunting.members:{crew}:1:3")
    assert isinstance(again.fields[0], TextField) and again.fields[0].value == "3"


async def test_a_share_is_of_those_who_are_here_where_nothing_was_handed_in_before(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1, members=4)
    card = await at_squad(asking, "bunting.members", "1 Crooked Spoons")
    form = await asking.form(button(card, "Who is here").key)
    assert isinstance(form.fields[0], SelectField)
    three = "\n".join(choice.value for choice in form.fields[0].choices[:3])
    card = await asking.message(form.key, fields={"here": three})
    share = await asking.form(next(b.key for r in card.rows if isinstance(r, tuple) for b in r if "Enter" in b.label))
    back = await asking.message(share.key, fields={"contributing": "3"})
    assert "3 of 3 members took part" in back.text

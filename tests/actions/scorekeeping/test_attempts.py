"""Attempts are typed, read back, counted and saved, and never lost or doubled; only who is in a tie runs off."""

import pytest

from storage.records.message import TextField
from storage.records.plan import Event
from storage.records.plan_measures import Count, Item
from storage.tables import tryouts
from tests.actions.conftest import Begin, button, small_plan
from tests.actions.table_help import add_squads, at_squad, enter, labels, press, select, standing


async def test_an_attempt_is_typed_read_back_and_saved(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 2)
    card = await at_squad(asking, "run.socks", "1 Crooked Spoons")
    assert card.text.endswith("No attempt yet.")
    form = await asking.form(button(card, "Enter attempt 1 of 2").key)
    assert form.title == "1 Crooked Spoons"
    assert [field.label for field in form.fields] == ["Sock", "Points off"]
    back = await asking.message(form.key, fields={"item-sock": "14", "deductions": "0"})
    assert "14 socks x 10 = 140 points. Right?" in back.text
    assert labels(back) == ["Save", "Change it"]
    assert await standing(asking) == []
    saved = await press(asking, back, "Save")
    assert saved.text.startswith("Saved. **1 Crooked Spoons**: Sock run, Socks, attempt 1 of 2")
    assert labels(saved) == ["Next: 2 Muddy Teapots", "Attempt 2 of the same squad", "Undo", "All squads"]
    assert await standing(asking) == ["1 run.socks 1"]


async def test_change_opens_the_form_with_what_was_typed(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    card = await at_squad(asking, "run.socks", "1 Crooked Spoons")
    back = await enter(asking, card, "Enter attempt 1 of 2", **{"item-sock": "14", "deductions": "2,5"})
    assert "14 socks x 10 - 2.5 = 137.5 points" in back.text
    form = await asking.form(button(back, "Change it").key)
    assert [field.value for field in form.fields if isinstance(field, TextField)] == ["14", "2.5"]


async def test_a_number_that_will_not_do_leads_back_into_the_form(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    card = await at_squad(asking, "run.socks", "1 Crooked Spoons")
    form = await asking.form(button(card, "Enter attempt 1 of 2").key)
    for typed in ("lots", "-3", "99999", ""):
        refused = await asking.message(form.key, fields={"item-sock": typed})
        assert (await asking.form(button(refused, "Type it again").key)) == form
    assert await standing(asking) == []


async def test_more_attempts_than_the_plan_allows_are_refused(begin: Begin) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 1)
    for number in (1, 2):
        await asking.ask(f"table.save:run.socks:{squads[0]}:{number}:14:0")
    refused = await asking.message(f"table.save:run.socks:{squads[0]}:3:14:0")
    assert "has used all its attempts: 2" in refused.text
    assert len(await standing(asking)) == 2
    assert "Enter" not in "".join(labels(await at_squad(asking, "run.socks", "1 Crooked Spoons")))


async def test_saving_the_same_attempt_again_says_what_is_on_record(begin: Begin) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 1)
    key = f"table.save:run.socks:{squads[0]}:1"
    await asking.ask(f"{key}:14:0")
    late = await asking.message(f"{key}:9:0")
    assert "on record already: 14 socks x 10 = 140 points" in late.text
    assert len(await standing(asking)) == 1


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"item-sock": "", "deductions": "0"}, "A blank is not a zero"),
        ({"item-sock": "1.5", "deductions": "0"}, "type a whole number"),
        ({"item-sock": "2000", "deductions": "0"}, "is too much"),
        ({"item-sock": "3", "deductions": "many"}, "type a number"),
    ],
)
async def test_slips_in_a_count_are_refused_in_words(begin: Begin, fields: dict[str, str], said: str) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 1)
    assert said in (await asking.message(f"table.typed:run.socks:{squads[0]}:1", fields=fields)).text


async def test_five_kinds_of_items_leave_points_off_to_a_form_apart(begin: Begin) -> None:
    items = tuple(Item(key=f"i{number}", name=f"Rock {number}") for number in range(5))
    event = Event(
        key="run",
        name="Sock run",
        weight=small_plan().events[0].weight,
        measures=(Count(key="socks", name="Socks", items=items, scale="best"),),
    )
    asking = await begin("judging", events=(event,), tie_breaks=())
    await add_squads(asking, 1)
    squads = await asking.message("table.panel")
    card = await asking.message(select(squads).key, values=(select(squads).choices[0].value,))
    back = await enter(asking, card, "Enter attempt 1 of 2", **{f"item-i{number}": "1" for number in range(5)})
    assert "= 50 points" in back.text
    off = await asking.form(button(back, "Points off").key)
    assert "- 7 = 43 points" in (await asking.message(off.key, fields={"deductions": "7"})).text


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

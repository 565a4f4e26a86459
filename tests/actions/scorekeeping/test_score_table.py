"""The table: attempts are read back, counted, undone, and never lost or doubled."""

from typing import Any

import pytest

from bot.rules.squads.names import name_keys
from storage.records.message import Message, RadioField, TextField
from storage.records.plan import Event
from storage.records.plan_measures import Count, Item
from storage.tables import attempts, audit_log, tryouts
from storage.tables import squads as squads_table
from tests.actions.conftest import COACH, Begin, button, small_plan
from tests.actions.table_help import add_squads, at_squad, enter, labels, press, select, standing

ONE = {"squad": "1", "measure": "run.socks", "value": "3"}


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


async def test_the_next_squad_is_one_press_away_and_the_last_leads_to_the_first(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 3)
    card = await at_squad(asking, "run.socks", "3 Sleepy Turnips")
    saved = await press(asking, await enter(asking, card, "Enter attempt 1 of 2", **{"item-sock": "1"}), "Save")
    assert (await press(asking, saved, "Next: 1 Crooked Spoons")).text.startswith("**1 Crooked Spoons**")
    listed = await press(asking, saved, "All squads")
    assert "0 of 3 squads done, 1 attempt in." in listed.text


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


async def test_members_who_contributed_are_counted_of_those_the_squad_has(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1, members=4)
    card = await at_squad(asking, "bunting.members", "1 Crooked Spoons")
    label = "Enter members who took part"
    assert "3 of 4 members took part" in (await enter(asking, card, label, contributing="3")).text
    assert "5 of 4 members is not possible" in (await enter(asking, card, label, contributing="5")).text


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


async def test_absence_needs_no_attempt_and_excusing_needs_a_coach_and_a_reason(begin: Begin) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 1)
    key = f"table.absence:run.socks:{squads[0]}"
    async with asking.store.write() as db:
        await db.run(
            "INSERT INTO officer (tryout_id, platform_id, name, role) VALUES (1, 300, 'Keeper', 'scorekeeper')"
        )
    form = await asking.form(f"table.absence:run.socks:{squads[0]}", 300)
    radio = next(field for field in form.fields if isinstance(field, RadioField))
    assert [choice.label for choice in radio.choices] == ["It takes part", "Absent"]
    refused = await asking.filled(key, 300, fields={"state": "excused", "reason": "ill"})
    assert "Only a coach can excuse" in refused.text
    assert "type a reason" in (await asking.filled(key, fields={"state": "excused"})).text
    assert "is excused from" in (await asking.filled(key, fields={"state": "excused", "reason": "trip"})).text
    refused = await asking.message(f"table.save:run.socks:{squads[0]}:1:14:0")
    assert "noted as not taking part" in refused.text
    await asking.filled(key, fields={"state": "here"})
    await asking.ask(f"table.save:run.socks:{squads[0]}:1:14:0")
    assert "has an attempt on record" in (await asking.filled(key, fields={"state": "absent"})).text


async def test_one_command_does_what_the_buttons_do(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 2)
    await asking.ask("surprise.start:chain")

    async def score(squad: str, measure: str, value: str) -> Message:
        return await asking.message("table.score", fields={"squad": squad, "measure": measure, "value": value})

    back = await score("2", "run.socks", "14 -5")
    assert "**2 Muddy Teapots**" in back.text and "14 socks x 10 - 5 = 135 points" in back.text
    assert "Saved" in (await press(asking, back, "Save")).text
    assert "**1 Crooked Spoons**" in (await score("crooked spoons", "run.socks", "3")).text
    assert "1:32.4 + 2 faults" in (await score("1", "chain.time", "1:32.4 2")).text
    assert "Did not finish" in (await score("1", "chain.time", "dnf")).text
    assert "2 of 3 members" in (await score("1", "bunting.members", "2")).text
    assert "I know no squad" in (await score("9", "run.socks", "3")).text
    assert "I cannot read" in (await score("1", "run.socks", "3 4")).text


async def test_a_squad_that_calls_itself_by_a_number_does_not_stand_for_another_one(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 12)
    async with asking.store.write() as db:
        await squads_table.rename(db, 1, "12", name_keys("12"))
        await squads_table.rename(db, 2, "11 Squad number 11", name_keys("11 Squad number 11"))
    for said, number in (("12", 12), ("11 squad number 11", 11), ("1 12", 1)):
        back = await asking.message("table.score", fields={"squad": said, "measure": "run.socks", "value": "3"})
        assert f"**{number} " in back.text, said


async def test_squads_and_measures_are_offered_while_the_command_is_typed(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 30)
    found = await asking.message("table.suggest-squad", fields={"typed": "mud"})
    assert [choice.label for choice in select(found).choices] == ["2 Muddy Teapots"]
    assert len(select(await asking.message("table.suggest-squad", fields={"typed": ""})).choices) == 25
    found = await asking.message("table.suggest-measure", fields={"typed": "run"})
    assert [choice.value for choice in select(found).choices] == ["run.socks"]


async def test_a_surprise_is_not_at_the_table_before_it_starts(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 2)
    assert "chain" not in str(await asking.message("table.panel"))
    assert "Nothing fits" in (await asking.message("table.suggest-measure", fields={"typed": "chain"})).text
    await asking.ask("surprise.start:chain")
    assert "chain.time" in str(await asking.message("table.panel"))
    found = await asking.message("table.suggest-measure", fields={"typed": "chain"})
    assert [choice.value for choice in select(found).choices] == ["chain.time"]


async def test_squads_past_25_are_on_the_next_page(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 27)
    panel = await asking.message("table.panel")
    first = await asking.message(select(panel).key, values=("run.socks",))
    second = await press(asking, first, "Next page 2 of 2")
    assert [choice.label for choice in select(second).choices] == ["26 Squad number 26", "27 Squad number 27"]


@pytest.mark.parametrize(
    ("state", "said"), [("signup", "once the brief is out"), ("announced", "The result is announced")]
)
async def test_the_table_is_closed_before_the_brief_and_after_the_announcement(
    begin: Begin, state: Any, said: str
) -> None:
    asking = await begin(state)
    squads = await add_squads(asking, 1)
    assert said in (await asking.message("table.score", fields=ONE)).text
    assert said in (await asking.message(f"table.save:run.socks:{squads[0]}:1:14:0")).text
    assert await standing(asking) == []


async def test_after_the_announcement_the_table_is_there_to_be_read(begin: Begin) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 1)
    await asking.ask(f"table.save:run.socks:{squads[0]}:1:14:0")
    async with asking.store.write() as db:
        await tryouts.set_announced(db, 1, asking.now)
    card = await at_squad(asking, "run.socks", "1 Crooked Spoons")
    assert "14 socks x 10 = 140 points" in card.text
    assert labels(card) == ["All squads"]


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


async def test_only_coaches_and_scorekeepers_come_to_the_table(begin: Begin) -> None:
    from bot.actions.core.dispatch import ACTIONS

    asking = await begin("judging")
    await add_squads(asking, 1)
    for action in (key for key in ACTIONS if key.startswith("table.")):
        refused = await asking.message(f"{action}:run.socks:1:1", who=10_100)
        assert "Only a coach" in refused.text, action
    assert COACH != 10_100


async def test_the_longest_keys_of_a_plan_fit_a_button(begin: Begin) -> None:
    long = "a" * 24
    items = tuple(Item(key=f"i{number}", name="R" * 100) for number in range(5))
    event = Event(
        key=long,
        name="E" * 100,
        weight=small_plan().events[0].weight,
        measures=(Count(key=long, name="M" * 100, items=items, scale="best", attempts=10),),
    )
    asking = await begin("judging", events=(event,), tie_breaks=())
    squads = await add_squads(asking, 1)
    fields = {f"item-i{number}": "999" for number in range(5)}
    back = await asking.message(f"table.typed:{long}.{long}:{squads[0]}:1", fields=fields)
    keys = [part.key for row in back.rows if isinstance(row, tuple) for part in row]
    off = await asking.message((await asking.form(keys[2])).key, fields={"deductions": "99998,25"})
    assert "Right?" in off.text

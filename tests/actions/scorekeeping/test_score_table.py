"""The table: who comes to it, when, and what can be picked there."""

from typing import Any

import pytest

from storage.records.plan import Event
from storage.records.plan_measures import Count, Item
from storage.tables import tryouts
from tests.actions.conftest import COACH, Begin, small_plan
from tests.actions.scorekeeping.test_score_command import ONE
from tests.actions.table_help import add_squads, at_squad, labels, press, select, standing


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


async def test_an_old_button_of_a_squad_that_was_taken_out_leads_back_to_the_table(begin: Begin) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 2)
    form = await asking.form(f"people.withdraw:{squads[0]}")
    await asking.ask(form.key, fields={"reason": "They cannot come"})
    said = await asking.message(f"table.squad:run.socks:{squads[0]}")
    assert "Open the table again" in said.text and labels(said) == ["Table"]


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

"""Numbers, checklists, mistakes and named penalties at the table: typed, read back, asked about, saved."""

from decimal import Decimal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.typed_times import Asked
from bot.words.core.refusals import message
from bot.words.scorekeeping.attempt_entry import NAMED
from storage.records.message import SelectField, TextField
from storage.records.plan import Event
from storage.records.plan_measures import Check, Checklist, Count, Item, Number
from storage.tables import attempts, tryouts
from tests.actions.conftest import Asking, Begin, button
from tests.actions.table_help import add_squads, at_squad, enter, labels, press

BRIDGES = Event(
    key="bridges",
    name="Bridges",
    weight=Decimal(1),
    measures=(
        Number(key="mass", name="Mass of the bridge", unit="g", decimals=1, highest=Decimal(500), better="lower",
               attempts=2, maximum=Decimal(500)),
        Checklist(key="rules", name="Building rules", lines=(
            Check(key="span", name="Reaches both banks", points=Decimal(3)),
            Check(key="glue", name="Glue on the road", points=Decimal(-1)),
        )),
        Count(key="slips", name="Mistakes", better="lower", maximum=Decimal(20), attempts=1, items=(
            Item(key="drop", name="Drop", points=Decimal(2), most=10),
        )),
    ),
)  # fmt: skip


async def begun(begin: Begin) -> Asking:
    asking = await begin("judging", events=(BRIDGES,), tie_breaks=("bridges.mass",))
    await add_squads(asking, 2)
    return asking


async def test_a_mass_is_typed_with_a_comma_and_read_back_with_its_direction(begin: Begin) -> None:
    asking = await begun(begin)
    card = await at_squad(asking, "bridges.mass", "1 Crooked Spoons")
    form = await asking.form(button(card, "Enter attempt 1 of 2").key)
    (field,) = form.fields
    assert isinstance(field, TextField)
    assert field.hint == "In g, at most 1 decimal, 0 to 500. Lower is better."
    back = await asking.message(form.key, fields={"amount": "123,5 g"})
    assert "123.5 g (lower is better). Right?" in back.text
    assert "Saved" in (await press(asking, back, "Save")).text
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        (made,) = await attempts.attempts(db, tryout.id)
    assert made.amount == Decimal("123.5")


async def test_a_mass_that_cannot_be_is_refused_with_the_range(begin: Begin) -> None:
    asking = await begun(begin)
    card = await at_squad(asking, "bridges.mass", "1 Crooked Spoons")
    label = "Enter attempt 1 of 2"
    assert "1235 g is not possible: the plan says 0 to 500 g" in (await enter(asking, card, label, amount="1235")).text
    assert "too many decimals; the plan says 1" in (await enter(asking, card, label, amount="12.35")).text
    assert "type a number" in (await enter(asking, card, label, amount="1e3")).text
    assert "A blank is not a zero" in (await enter(asking, card, label, amount=" ")).text


async def test_a_checklist_is_ticked_in_one_list(begin: Begin) -> None:
    asking = await begun(begin)
    card = await at_squad(asking, "bridges.rules", "2 Muddy Teapots")
    form = await asking.form(button(card, "Enter attempt 1 of 1").key)
    (field,) = form.fields
    assert isinstance(field, SelectField)
    assert [(choice.label, choice.note) for choice in field.choices] == [
        ("Reaches both banks", "3 points"), ("Glue on the road", "-1 point")
    ]  # fmt: skip
    back = await asking.message(form.key, fields={"ticked": "span\nglue"})
    assert "2 of 2 ticked (Reaches both banks +3, Glue on the road -1) = 2 points. Right?" in back.text
    again = await asking.form(button(back, "Change it").key)
    assert isinstance(again.fields[0], SelectField) and all(choice.chosen for choice in again.fields[0].choices)
    none = await asking.message(form.key, fields={})
    assert "0 of 2 ticked (none) = 0 points" in none.text
    assert "Saved" in (await press(asking, back, "Save")).text


async def test_more_than_there_are_is_asked_about_before_it_is_saved(begin: Begin) -> None:
    asking = await begun(begin)
    card = await at_squad(asking, "bridges.slips", "1 Crooked Spoons")
    back = await enter(asking, card, "Enter attempt 1 of 1", **{"item-drop": "14", "deductions": "1"})
    assert "14 drops x 2 + 1 = 29 points (lower is better)" in back.text
    assert "**14 drops? There are only 10.** If that is a slip, press **Change it**." in back.text
    assert {"Save", "Change it"} <= set(labels(back))
    assert (button(back, "Save").style, button(back, "Change it").style) == ("plain", "main")
    usual = await enter(asking, card, "Enter attempt 1 of 1", **{"item-drop": "3", "deductions": "0"})
    assert (button(usual, "Save").style, button(usual, "Change it").style) == ("main", "plain")
    assert "There are only" not in usual.text


async def test_the_lowest_attempt_stands_in_the_squads_own_result(begin: Begin) -> None:
    asking = await begun(begin)
    for squad in (1, 2):
        for number, amount in ((1, 90 + squad), (2, 60 + squad)):
            await asking.ask(f"table.save:bridges.mass:{squad}:{number}:{amount}")
        await asking.ask(f"table.save:bridges.rules:{squad}:1:10")
        await asking.ask(f"table.save:bridges.slips:{squad}:1:1:0")
    async with asking.store.write() as db:
        await tryouts.set_state(db, (await asking.tryout()).id, "settled")
    shown = await asking.message("results.squad", fields={"squad": "crooked spoons"})
    assert "61 g (best), lower is better" in shown.text


def test_whatever_is_asked_for_has_its_name_in_the_sentences_about_it() -> None:
    assert NAMED.keys() == set(Asked)
    typed = Refusal(TableReason.TYPED_WHOLE, what=Asked.FAULTS, typed="x")
    assert message(typed).text.startswith("**x** will not do for the faults:")

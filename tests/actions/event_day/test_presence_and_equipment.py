"""Who is here is ticked at the table; what the squad is given follows, in its room too."""

from storage.records.message import SelectField
from storage.records.plan import Equipment
from storage.tables import audit_log, helpers
from tests.actions.conftest import Asking, Begin, button, small_plan
from tests.actions.table_help import add_squads, at_squad, press

KEEPER = 801


def asked_plan() -> dict[str, object]:
    """The chain needs scissors and two people."""
    events = list(small_plan().events)
    given = Equipment(name="pairs of scissors", pieces="present - 1")
    events[2] = events[2].model_copy(update={"equipment": given, "least_present": 2})
    return {"events": tuple(events)}


async def begun(begin: Begin) -> Asking:
    asking = await begin("judging", **asked_plan())
    await add_squads(asking, 1, members=4)
    await asking.ask("surprise.start:chain")
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, KEEPER, "Keeper", "scorekeeper")
    return asking


async def tick(asking: Asking, here: int) -> str:
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    form = await asking.form(button(card, "Who is here").key)
    (field,) = form.fields
    assert isinstance(field, SelectField)
    chosen = [choice.value for choice in field.choices][:here]
    return (await asking.message(form.key, fields={"here": "\n".join(chosen)})).text


async def test_the_roster_is_ticked_beforehand_and_what_was_noted_stands_in_it_later(begin: Begin) -> None:
    asking = await begun(begin)
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    assert "Who is here has not been ticked yet." in card.text
    form = await asking.form(button(card, "Who is here").key)
    assert isinstance(form.fields[0], SelectField)
    assert [choice.chosen for choice in form.fields[0].choices] == [True] * 4
    assert "Here: **3 of 4**. Equipment: **2 pairs of scissors**." in await tick(asking, 3)
    again = await asking.form(button(card, "Who is here").key)
    assert isinstance(again.fields[0], SelectField)
    assert [choice.chosen for choice in again.fields[0].choices] == [True, True, True, False]


async def test_the_squad_reads_it_in_its_room_once_and_a_late_arrival_corrects_it_and_is_recorded(begin: Begin) -> None:
    asking = await begun(begin)
    await tick(asking, 3)
    await tick(asking, 3)
    await tick(asking, 4)
    told = [text for text in await asking.messages_to("squad/1") if "Here:" in text]
    assert [text.split("**")[3] for text in told] == ["3 of 4", "4 of 4"]
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        noted = [entry.details for entry in await audit_log.entries(db, tryout.id) if entry.action == "day.here"]
    assert [len(str(one["changed"]).split(",")) for one in noted] == [3, 1]


async def test_no_clock_starts_before_somebody_has_looked(begin: Begin) -> None:
    asking = await begun(begin)
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    ready = await press(asking, card, "Stopwatch")
    assert "First tick who of the squad is here" in (await press(asking, ready, "All safe: start the clock")).text
    await tick(asking, 2)
    assert "The clock started" in (await press(asking, ready, "All safe: start the clock")).text


async def test_below_the_least_number_only_a_coach_lets_a_squad_start(begin: Begin) -> None:
    asking = await begun(begin)
    assert "At least 2 are needed to start." in await tick(asking, 1)
    start = "table.start:chain.time:1:1"
    assert (
        "Too few of the squad are here: 1. At least 2 are needed to start."
        in (await asking.message(start, KEEPER)).text
    )
    assert "The clock started" in (await asking.message(start)).text

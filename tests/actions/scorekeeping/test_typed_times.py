"""Times at the table: typed, mixed up, not finished."""

import pytest

from storage.records.message import RadioField
from storage.tables import attempts
from tests.actions.conftest import Begin, button
from tests.actions.table_help import add_squads, at_squad, enter, press


async def test_a_time_is_typed_in_minutes_with_faults(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    await asking.ask("surprise.start:chain")
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    back = await enter(asking, card, "Enter attempt 1 of 1", time="1:32,4", faults="2", finished="yes")
    assert "1:32.4 + 2 faults x 5 s = 1:42.4. Right?" in back.text
    await press(asking, back, "Save")
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        (made,) = await attempts.attempts(db, tryout.id)
    assert (str(made.seconds), made.faults) == ("92.4", 2)


@pytest.mark.parametrize(
    ("typed", "asked"),
    [
        ("932", "longer than the limit. Did you mean something else?"),
        ("1.32", "If you meant 1:32, press **Change it**"),
    ],
)
async def test_minutes_and_seconds_mixed_up_are_asked_about(begin: Begin, typed: str, asked: str) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    await asking.ask("surprise.start:chain")
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    back = await enter(asking, card, "Enter attempt 1 of 1", time=typed, faults="0", finished="yes")
    assert asked in back.text


async def test_a_squad_that_did_not_finish_has_no_time(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    await asking.ask("surprise.start:chain")
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    back = await enter(asking, card, "Enter attempt 1 of 1", time="", faults="1", finished="no")
    assert "Did not finish. Right?" in back.text
    form = await asking.form(button(back, "Change it").key)
    radio = next(field for field in form.fields if isinstance(field, RadioField))
    assert [choice.chosen for choice in radio.choices] == [False, True]

"""An attempt in one command, and what is suggested while it is typed."""

from bot.rules.squads.names import name_keys
from storage.records.message import Message
from storage.tables import squads as squads_table
from tests.actions.conftest import Begin
from tests.actions.scorekeeping.test_attempt_entry import begun
from tests.actions.table_help import add_squads, press, select

ONE = {"squad": "1", "measure": "run.socks", "value": "3"}


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


async def test_one_line_does_the_same_as_the_forms(begin: Begin) -> None:
    asking = await begun(begin)

    async def score(measure: str, value: str) -> Message:
        return await asking.message("table.score", fields={"squad": "1", "measure": measure, "value": value})

    assert "88 g (lower is better)" in (await score("bridges.mass", "88")).text
    assert "1 of 2 ticked (Reaches both banks +3)" in (await score("bridges.rules", "yes no")).text
    assert "1 of 2 ticked (Reaches both banks +3)" in (await score("bridges.rules", "10")).text
    assert "Type yes or no for each" in (await score("bridges.rules", "yes")).text
    assert "Type yes or no for each" in (await score("bridges.rules", "110")).text

"""The coach's page of the event day."""

from tests.actions.conftest import Begin
from tests.actions.table_help import add_judges, add_squads


async def test_without_a_plan_of_the_day_everything_else_works_and_the_page_asks_for_one(begin: Begin) -> None:
    asking = await begin("window")
    await add_squads(asking, 1)
    await add_judges(asking, 1)
    assert "says nothing about it yet" in (await asking.message("day.panel")).text
    assert "no event day yet" in (await asking.message("day.make")).text
    saved = await asking.message("table.save:run.socks:1:1:4:0")
    assert "Saved" in saved.text

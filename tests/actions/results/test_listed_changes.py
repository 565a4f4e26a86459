"""What is listed with a result."""

import bot.actions.results.place_offers  # noqa: F401
from storage.tables import decisions
from tests.actions.conftest import Begin
from tests.actions.scored import whole


async def test_changes_of_the_plan_since_the_brief_are_listed_with_their_reasons(begin: Begin) -> None:
    asking, _ = await whole(begin)
    assert "Nothing was changed since the brief" in (await asking.message("results.announce")).text
    async with asking.store.write() as db:
        await decisions.decide_plan(db, 1, ("weight of Bunting 30 to 35",), "a" * 64, "snow day", asking.now)
    text = (await asking.message("results.announce")).text
    assert "- weight of Bunting 30 to 35 (reason: snow day)" in text

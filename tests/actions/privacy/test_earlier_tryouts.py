"""Names of try-outs that are put away are erased at any time, when somebody asks."""

import re
from datetime import timedelta

from storage.records.message import Select
from storage.records.request import Person
from storage.tables import processed_interactions
from tests.actions.conftest import SERVER, Begin, button
from tests.actions.office_cast import make_squad, texts, until
from tests.actions.privacy.test_purge_tryout import everything, fields, sent


async def test_names_of_a_try_out_that_is_put_away_can_be_erased_at_any_time_by_who_manages_the_server(
    begin: Begin,
) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 2, "Zany Zebras")
    await asking.ask("people.coach", people=(Person(id=200, name="Zelda Zorn"),))
    await fields(asking, squad)
    await sent(asking)
    assert "all names can be erased at once" in (await asking.message("tryout.ask-archive")).text
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await sent(asking)
    page = await asking.message(button(await asking.message("office"), "Earlier try-outs").key)
    picked = next(row for row in page.rows if isinstance(row, Select))
    assert [one.label for one in picked.choices] == ["Quillmere robot club try-out"]
    assert "Only someone who manages" in (await asking.message(picked.key, 200, values=("1",))).text
    sure = await asking.message(picked.key, values=("1",))
    assert "No earlier try-out" in (await asking.message("earlier.show", server_id=SERVER + 1)).text
    yes = button(sure, "Yes, erase").key
    assert "erased already" in (await asking.message(yes, server_id=SERVER + 1)).text
    assert "Zelda" in await everything(asking)
    told = await asking.message(yes)
    assert "are erased" in told.text and "No earlier try-out" in told.text
    await sent(asking)
    async with asking.store.write() as db:
        await processed_interactions.drop_older(db, asking.now + timedelta(days=3))
    assert re.findall(r"Z[a-z]+", await everything(asking)) == []
    before = len(await asking.messages_to("office"))
    assert "erased already" in (await asking.message(yes)).text
    await until(asking, asking.now + timedelta(days=61))
    assert len(await asking.messages_to("office")) == before
    assert "Earlier try-outs" not in texts(await asking.message("office"))


async def test_a_next_try_out_leads_to_them_too(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 2, "Zany Zebras")
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await begin()
    page = await asking.message(button(await asking.message("privacy.kept"), "Earlier try-outs").key)
    assert "Quillmere robot club try-out: erased" in page.text

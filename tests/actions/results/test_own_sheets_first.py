"""A coach who judges hands in the own sheets first."""

from bot.actions.judging.judges_admin import enrol
from storage.tables import judges
from tests.actions.conftest import COACH, Begin
from tests.actions.scored import BUNTING, preview, whole
from tests.actions.table_help import hand_in


async def test_a_coach_who_judges_is_told_of_the_own_sheets_first(begin: Begin) -> None:
    asking, squads = await whole(begin, state="judging")
    async with asking.store.write() as db:
        own = await enrol(db, 1, COACH, "Coach")
    await hand_in(asking, own, squads[1], "bunting", "bunting", {})
    text = (await preview(asking)).text
    assert text.startswith("**Your own sheets first.** You judge, too, and still owe 1 sheet.")
    assert "Muddy Teapots" not in text and "NOT COMPLETE" not in text


async def test_a_coach_who_judges_sees_no_marks_for_a_squad_before_handing_in_the_own_sheet(begin: Begin) -> None:
    asking, squads = await whole(begin)
    async with asking.store.write() as db:
        own = await enrol(db, 1, COACH, "Coach")
        await judges.set_weight(db, own, "0")
    await hand_in(asking, own, squads[1], "bunting", "bunting", {})
    message = await preview(asking)
    assert "1 squad not shown: hand in your own sheets for them first." in message.text
    assert "Muddy Teapots" not in message.text and "Muddy Teapots" not in message.files[0].alt
    assert [file.name for file in message.files] == ["standings.png"]
    refused = await asking.message("results.squad", values=(str(squads[1]),))
    assert "Hand in your own sheet first" in refused.text
    assert "1 score sheet of your own" in (await asking.message("results.announce")).text
    await hand_in(asking, own, squads[1], "bunting", "bunting", BUNTING)
    assert "Muddy Teapots" in (await preview(asking)).text

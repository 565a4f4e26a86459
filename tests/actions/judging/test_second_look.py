"""Wide gaps between judges of one squad: both are asked to look again, and neither is named."""

import bot.actions.judging.second_look  # noqa: F401
from storage.records.message import Message
from storage.tables import helpers
from tests.actions.conftest import Begin, button
from tests.actions.judging_cast import ADA, BEN, CY, Cast, cast
from tests.actions.table_help import select


async def apart(begin: Begin) -> Cast:
    found = await cast(begin)
    await found.open()
    for who, level in ((ADA, 4), (BEN, 1), (CY, 2)):
        await found.fill(who, "Crooked Spoons", {"reasons": level, "theme": 3})
    for who in (ADA, BEN):
        await found.fill(who, "Muddy Teapots", {"reasons": 3, "theme": 3})
    return found


async def test_the_coach_sees_where_judges_differ_and_neither_marks_nor_names(begin: Begin) -> None:
    found = await apart(begin)
    status = await found.asking.message("judging.status")
    gaps = await found.asking.message(button(status, "Where judges differ").key)
    assert "- **Crooked Spoons**: Written reasons" in gaps.text
    assert "Muddy Teapots" not in gaps.text and "theme" not in gaps.text.lower()
    assert not any(word in gaps.text for word in ("Judge 20", "4", "1"))


async def test_every_judge_of_that_squad_is_asked_and_can_change_the_sheet(begin: Begin) -> None:
    found = await apart(begin)
    gaps = await found.asking.message("judging.gaps")
    assert "3 judges got a note" in (await found.asking.message(button(gaps, "Ask for a second look").key)).text
    for who in (ADA, BEN, CY):
        judge = await found.judge(who)
        told = (await found.asking.messages_to(f"judge/{judge.id}"))[-1]
        assert "- **Crooked Spoons**: Written reasons" in told and "Judge 20" not in told
    async with found.asking.store.read() as db:
        sent = await db.value(
            "SELECT message_json FROM outbox_message WHERE address LIKE 'judge/%' ORDER BY id DESC LIMIT 1"
        )
    choice = select(Message.model_validate_json(sent)).choices[0]
    page = await found.asking.message("sheets.look", CY, values=(choice.value,))
    assert "**Crooked Spoons**" in page.text and not button(page, "Change").disabled


async def test_a_coach_who_judges_sees_no_gaps_of_a_squad_before_the_own_sheet_is_in(begin: Begin) -> None:
    found = await apart(begin)
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, CY, "Cy", "coach")
        await db.run("UPDATE sheet SET state = 'started' WHERE id = ?", (await found.sheet(CY, "Crooked Spoons")).id)
    assert "score sheets of your own to hand in" in (await found.asking.message("judging.gaps", CY)).text
    assert "Only a coach" in (await found.asking.message("judging.gaps", BEN)).text

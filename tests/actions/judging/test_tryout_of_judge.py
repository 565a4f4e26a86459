"""A judge in the try-outs of two class servers: every private message knows which of them it is about, or asks."""

from bot.rules.squads.names import name_keys
from bot.words.judging.tryout_of_judge import tryout_buttons
from storage.records.message import Answer, Message, Open
from storage.records.request import Person
from storage.tables import helpers, judges, score_sheets, squads, tryouts
from tests.actions.conftest import COACH, Asking, Begin, button, small_plan
from tests.actions.judging_cast import ADA, Cast, cast

OTHER_SERVER = 8
OTHER_NAME = "Reserve team try-out"


async def both(begin: Begin) -> tuple[Cast, int]:
    """Ada judges here and, since later, on another class server; her sheet there by id."""
    here = await cast(begin)
    await here.open()
    asking = here.asking
    async with asking.store.write() as db:
        other = await tryouts.create(db, OTHER_SERVER, small_plan(name=OTHER_NAME), asking.now)
        await tryouts.set_state(db, other, "window")
        await helpers.add_officer(db, other, COACH, "Coach", "coach")
        name = "Faraway Forks"
        squad = await squads.add_squad(db, other, name, name_keys(name), "7-A", "BCDHJ", asking.now)
    await asking.ask("judges.add", server_id=OTHER_SERVER, people=(Person(id=ADA, name="Ada"),))
    await asking.ask("sheets.start", ADA, server_id=OTHER_SERVER)
    async with asking.store.write() as db:
        judge = await judges.judge_of(db, other, ADA)
        assert judge is not None
        await score_sheets.add_sheets(db, [(judge.id, squad, "bunting", "bunting", 1)])
        await db.run("INSERT INTO judged_event SELECT ?, event, opened_at, closed_at FROM judged_event LIMIT 1", other)
    async with asking.store.read() as db:
        return here, (await score_sheets.sheets_of(db, judge.id))[0].id


async def say(asking: Asking, text: str) -> Message:
    return await asking.message("sheets.typed", ADA, fields={"text": text}, server_id=None)


async def marks(asking: Asking, sheet_id: int) -> dict[str, int]:
    async with asking.store.read() as db:
        found = await score_sheets.sheet(db, sheet_id)
    assert found is not None
    return found.marks


async def test_what_is_typed_before_a_choice_goes_nowhere_and_the_judge_is_asked(begin: Begin) -> None:
    here, there = await both(begin)
    asked = await say(here.asking, "3 4")
    assert "You judge in more than one try-out" in asked.text and "nothing was saved" in asked.text
    assert [button.label for row in asked.rows if isinstance(row, tuple) for button in row] == [
        "Quillmere robot club try-out",
        OTHER_NAME,
    ]
    assert all(not sheet.marks for sheet in await here.sheets(ADA)) and not await marks(here.asking, there)
    chosen = await here.asking.message(button(asked, OTHER_NAME).key, ADA, server_id=None)
    assert OTHER_NAME in chosen.text
    saved = await say(here.asking, "3 4")
    assert f"Try-out: {OTHER_NAME}" in saved.text
    assert await marks(here.asking, there) == {"reasons": 3, "theme": 4}
    assert all(not sheet.marks for sheet in await here.sheets(ADA))
    back = await here.asking.message(button(saved, "Quillmere robot club try-out").key, ADA, server_id=None)
    assert "Quillmere" in back.text
    await say(here.asking, "2")
    assert any(sheet.marks for sheet in await here.sheets(ADA))


async def test_the_buttons_of_both_lists_work_whatever_was_chosen_last(begin: Begin) -> None:
    here, there = await both(begin)
    own = (await here.sheets(ADA))[0].id
    for chosen in (1, 2):
        await here.asking.message(f"sheets.switch:{chosen}", ADA, server_id=None)
        for sheet in (own, there):
            form: Answer = await here.asking.ask(f"sheets.mark:{sheet}", ADA, server_id=None)
            assert isinstance(form, Open)
            looked = await here.asking.message("sheets.look", ADA, values=(str(sheet),), server_id=None)
            assert "no longer yours" not in looked.text


async def test_a_message_of_ours_says_which_tryout_it_belongs_to(begin: Begin) -> None:
    here, _ = await both(begin)
    async with here.asking.store.write() as db:
        await db.run("UPDATE live_message SET message_id = 900 + tryout_id WHERE address LIKE 'judge/%'")
        rows = await db.rows("SELECT tryout_id, message_id FROM live_message WHERE address LIKE 'judge/%'")
    for tryout_id, message_id in rows:
        listed = await here.asking.message("sheets.list", ADA, server_id=None, message_id=message_id)
        assert (OTHER_NAME in listed.text) == (tryout_id == 2)


async def test_choosing_a_sheet_for_typing_chooses_its_tryout(begin: Begin) -> None:
    here, there = await both(begin)
    await here.asking.message("sheets.switch:1", ADA, server_id=None)
    await here.asking.message(f"sheets.type:{there}", ADA, server_id=None)
    await say(here.asking, "1")
    assert await marks(here.asking, there) == {"reasons": 1}


async def test_once_one_of_them_is_over_nothing_is_asked(begin: Begin) -> None:
    here, _ = await both(begin)
    async with here.asking.store.write() as db:
        await tryouts.set_state(db, 2, "archived")
    assert "Written reasons: **3**" in (await say(here.asking, "3")).text
    assert "out of date" in (await here.asking.message("sheets.switch:2", ADA, server_id=None)).text


async def test_equal_names_are_told_apart_by_the_day_of_the_brief(begin: Begin) -> None:
    here = await cast(begin)
    tryout = await here.asking.tryout()
    (row,) = tryout_buttons([tryout, tryout.model_copy(update={"id": 9})])
    assert isinstance(row, tuple)
    assert all(one.label.endswith("(Mon 11 Jan 2027)") for one in row)

"""Judges read the hand-in beside their own sheets only."""

from tests.actions.conftest import Begin, button
from tests.actions.hand_in_cast import add, drawing, handing_in
from tests.actions.judging_cast import cast, squad_called
from tests.actions.office_cast import texts


async def test_a_judge_reads_the_hand_in_beside_the_own_sheet_only(begin: Begin) -> None:
    found = await cast(begin, people=(201, 202), names=("Crooked Spoons", "Muddy Teapots"), **handing_in())
    asking = found.asking
    async with asking.store.write() as db:
        crew = await squad_called(db, "Crooked Spoons")
        for who, name in ((1, "Ada Lark"), (2, "Ben Orr"), (3, "Ben Ito")):
            await db.run(
                "INSERT INTO student (id, tryout_id, platform_id, name, section, squad_id, joined_at) "
                "VALUES (?, 1, ?, ?, '7-A', ?, '2027-01-04')", who, who, name, crew,
            )  # fmt: skip
    for who in (1, 2, 3):
        await add(asking, who, photo=drawing() if who == 1 else None)
    await found.open()
    sheet = await found.sheet(201, "Crooked Spoons")
    look = await asking.message("sheets.look", 201, values=(str(sheet.id),), server_id=None)
    read = await asking.message(button(look, "See the hand-in").key, 201, server_id=None)
    assert "**Ada** (photo 1)" in read.text and "**Ben Orr**" in read.text and "**Ben Ito**" in read.text
    assert "Lark" not in read.text and len(read.files) == 1
    assert "no longer yours" in (await asking.message(f"sheets.hand-in:0:{sheet.id}", 202, server_id=None)).text
    assert "Only a judge" in (await asking.message(f"sheets.hand-in:0:{sheet.id}", 11)).text
    async with asking.store.write() as db:
        await db.run("UPDATE sheet SET state = 'recused' WHERE id = ?", sheet.id)
    assert "no longer yours" in (await asking.message(f"sheets.hand-in:0:{sheet.id}", 201, server_id=None)).text


async def test_the_judges_list_offers_the_hand_in_of_the_squad_that_comes_next(begin: Begin) -> None:
    found = await cast(begin, people=(201,), names=("Crooked Spoons",), **handing_in())
    await found.open()
    listed = await found.asking.message("sheets.list", 201, server_id=None)
    assert "See their Bunting: Crooked Spoons" in texts(listed)


async def test_without_a_hand_in_judges_are_offered_none(begin: Begin) -> None:
    found = await cast(begin, people=(201,), names=("Crooked Spoons",))
    await found.open()
    listed = await found.asking.message("sheets.list", 201, server_id=None)
    assert not any(label.startswith("See their") for label in texts(listed))
    sheet = await found.sheet(201, "Crooked Spoons")
    look = await found.asking.message("sheets.look", 201, values=(str(sheet.id),), server_id=None)
    assert "See the hand-in" not in texts(look)
    assert "hand in nothing" in (await found.asking.message(f"sheets.hand-in:0:{sheet.id}", 201, server_id=None)).text

"""The hand-in as the coach looks after it: parts entered for students who cannot, and taken out."""

from tests.actions.conftest import Begin, button
from tests.actions.hand_in_cast import DEADLINE, WHY, add, drawing, shown, window
from tests.actions.office_cast import texts, until


async def test_the_coach_enters_a_part_for_a_student_without_an_account(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await asking.ask("people.entered", fields={"name": "Zora", "section": "7-A"})
    async with asking.store.read() as db:
        zora = int(await db.value("SELECT id FROM student WHERE name = 'Zora'"))
    placed = await asking.message(f"people.placed:{zora}", values=(str(crew),))
    page = await asking.message(button(placed, "Part of the hand-in").key)
    form = await asking.form(button(page, "Enter the part").key)
    assert [field.key for field in form.fields] == ["why", "photo"]
    await asking.ask(form.key, fields={"why": "The lander, drawn on paper."}, uploads={"photo": drawing()})
    assert "Entered by a coach" in (await asking.message(f"hand-in.student:{zora}")).text
    assert "In (1 of 4): Zora" in (await shown(asking, crew)).text
    read = await asking.message(f"hand-in.squad:0:{crew}")
    assert "The lander" in read.text and len(read.files) == 1


async def test_the_coach_cannot_put_other_words_into_a_students_mouth_but_can_take_a_part_out(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await add(asking, 1)
    page = await asking.message("hand-in.student:1")
    assert WHY in page.text and "Change the part" not in texts(page)
    assert "Only Student 1 can change it" in (await asking.message("hand-in.entered:1", fields={"why": WHY + "!"})).text
    sure = await asking.message(button(page, "Take it out").key)
    assert "is deleted" in (await asking.message(button(sure, "Yes, take it out").key)).text
    assert "In (0 of 3)" in (await shown(asking, crew)).text


async def test_after_the_deadline_the_coach_gives_a_reason_and_after_the_result_nothing_is_added(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await until(asking, DEADLINE)
    form = await asking.form("hand-in.enter:2")
    assert [field.key for field in form.fields] == ["why", "photo", "late"]
    assert "entered late" in (await asking.message(form.key, fields={"why": WHY})).text
    assert "is saved" in (await asking.message(form.key, fields={"why": WHY, "late": "phone broke"})).text
    assert "Entered after the deadline: phone broke" in (await asking.message("hand-in.student:2")).text
    assert "In (1 of 3): Student 2" in (await shown(asking, crew)).text
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET state = 'announced'")
    assert "nothing is added" in (await asking.message("hand-in.enter:3")).text


async def test_no_answer_that_is_kept_repeats_what_a_student_wrote(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await add(asking, 1)
    await asking.filled("hand-in.enter:2", fields={"why": WHY})
    async with asking.store.read() as db:
        said = [row[0] for row in await db.rows("SELECT answer_json FROM processed_interaction")]
    assert len(said) > 10 and not any("wheel" in one for one in said)

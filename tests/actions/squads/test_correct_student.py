"""A student's name or section is corrected, everywhere."""

from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad, texts
from tests.actions.squads.test_students_admin import decisions, student_id
from tests.actions.squads.test_undo_correction import everything


async def test_a_misspelt_name_is_corrected_and_the_correction_undone(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    before = await everything(asking)
    one = await student_id(asking, "Student 1")
    card = await asking.message("people.student", values=(str(one),))
    form = await asking.form(button(card, "Correct name or section").key)
    assert [field.key for field in form.fields] == ["name", "section", "reason"]
    card = await asking.message(form.key, fields={"name": "Stella One", "section": "7-A"})
    assert "**Stella One** (captain), section 7-A" in card.text
    assert "Stella One (captain)" in (await asking.message("squad.mine", 1)).text
    card = await asking.message(button(card, "Undo: name or section").key)
    assert "**Student 1** (captain)" in card.text and "Undo: name or section" not in texts(card)
    assert await everything(asking) == before
    async with asking.store.read() as db:
        log = [row["action"] for row in await db.rows("SELECT action FROM audit_log ORDER BY seq DESC LIMIT 2")]
    assert log == ["correction.undone", "correction.details"]


async def test_a_student_who_changed_class_needs_a_reason_to_stay_in_the_squad(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    one = await student_id(asking, "Student 2")
    form = f"correct.ask:{one}"
    said = await asking.filled(form, fields={"name": "Student 2", "section": "7-B", "reason": ""})
    assert "is a squad of section 7-A" in said.text
    await asking.filled(form, fields={"name": "Student 2", "section": "7-B", "reason": "Changed class on day 4"})
    assert await decisions(asking) == [("seat", squad, one, "Changed class on day 4")]
    card = await asking.message("people.student", values=(str(one),))
    await asking.ask(button(card, "Undo: name or section").key)
    assert await decisions(asking) == []
    assert "nothing has changed" in (await asking.filled(form, fields={"name": "Student 2", "section": "7-A"})).text

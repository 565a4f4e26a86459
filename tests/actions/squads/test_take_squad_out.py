"""A squad is taken out for a reason, and its members are free."""

from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad
from tests.actions.squads.test_students_admin import decisions


async def test_a_squad_is_taken_out_for_a_reason_and_its_members_are_free(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 3, "Muddy Teapots")
    card = await asking.message("people.squad", values=(str(moles),))
    form = await asking.form(button(card, "Take the squad out").key)
    await asking.ask(form.key, fields={"reason": "They asked for it"})
    assert await decisions(asking) == [("withdrawn", moles, None, "They asked for it")]
    assert "0 squads with 0 students" in (await asking.message("people.panel")).text
    assert "Student 1 (7-A)" in (await asking.message("people.panel")).text
    assert "no longer there" in (await asking.message(form.key, fields={"reason": "Twice"})).text
    fields = {"squad": "Muddy Teapots", "name": "Student 1", "section": "7-A"}
    assert "you are its captain" in (await asking.message("squad.found", 1, fields=fields)).text

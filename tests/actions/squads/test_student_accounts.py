"""A student who gets an account later links it by a code, once."""

from datetime import timedelta

from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad, texts, until
from tests.actions.squads.test_squads_admin import BRIEF, coach_squad
from tests.actions.squads.test_students_admin import entered, student_id


async def test_a_student_who_gets_an_account_links_it_by_a_code_once(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await coach_squad(asking, "Muddy Teapots", "Ann", "Bob", "Cyd")
    await until(asking, BRIEF + timedelta(days=4))
    card = await asking.message("people.student", values=(str(await student_id(asking, "Ann")),))
    assert "Undo: the move" in texts(card)
    code = (await asking.message(button(card, "Code for an account").key)).text.split("**: **")[1][:8]
    mine = await asking.message("squad.mine", 1)
    assert texts(mine) == ["I came late", "I have a code from my coach"]
    form = await asking.form(button(mine, "I have a code from my coach").key, 1)
    assert "fits nobody" in (await asking.message(form.key, 2, fields={"code": "BCDHJLMN"})).text
    said = await asking.message(form.key, 1, fields={"code": f" {code[:4].lower()}-{code[4:]} "})
    assert "Welcome, **Ann**." in said.text and "**Muddy Teapots**" in said.text
    assert "**Muddy Teapots**, section 7-A" in (await asking.message("squad.mine", 1)).text
    async with asking.store.read() as db:
        assert await db.value("SELECT wanted FROM room_seat WHERE squad_id = ? AND platform_id = 1", squad) == 1
    assert "fits nobody" in (await asking.message(form.key, 3, fields={"code": code})).text
    again = await asking.message(form.key, 1, fields={"code": code})
    assert again.text == said.text, "the first answer may have been lost on its way"


async def test_an_account_that_is_a_student_already_is_not_linked_to_another(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 11, 3, "Crooked Spoons")
    ann = await entered(asking, "Ann")
    code = (await asking.message(f"link.code:{ann}")).text.split("**: **")[1][:8]
    assert "is **Student 11** already" in (await asking.message("link.linked", 11, fields={"code": code})).text
    assert (
        "has an account already" in (await asking.message(f"link.code:{await student_id(asking, 'Student 11')}")).text
    )

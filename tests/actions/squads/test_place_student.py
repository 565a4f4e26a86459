"""The coach places a student: in another squad, and in one that the plan does not give."""

from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad, until
from tests.actions.squads.test_students_admin import BRIEF, decisions, entered, student_id


async def test_a_student_moves_to_another_squad_also_after_sign_up_is_closed(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    crew = await make_squad(asking, 1, 4, "Crooked Spoons")
    moles = await make_squad(asking, 11, 2, "Muddy Teapots")
    await until(asking, BRIEF)
    one = await student_id(asking, "Student 1")
    assert "in **Muddy Teapots**" in (await asking.message(f"people.placed:{one}", values=(str(moles),))).text
    assert "Student 2 is captain now" in (await asking.messages_to(f"squad/{crew}"))[-1]
    again = await asking.message(f"people.placed:{one}", values=(str(moles),))
    assert "is in **Muddy Teapots** already" in again.text


async def test_a_seat_the_plan_does_not_give_takes_a_reason(begin: Begin) -> None:
    asking = await begin()
    crew = await make_squad(asking, 1, 5, "Crooked Spoons")
    cy = await entered(asking, "Cy", "7-B")
    asked = await asking.message(f"people.placed:{cy}", values=(str(crew),))
    assert asked.text.startswith("**Crooked Spoons** is for section 7-A.\nYou can still place **Cy** there")
    ann = await entered(asking, "Ann", "7-A")
    full = (await asking.message(f"people.placed:{ann}", values=(str(crew),))).text
    assert full.startswith("**Crooked Spoons** is full: 5 is the most.\nYou can still place"), "no advice for students"
    form = await asking.form(button(asked, "Place anyway, with a reason").key)
    assert "reason" in (await asking.message(form.key, fields={"reason": "  "})).text
    assert await decisions(asking) == []
    await asking.ask(form.key, fields={"reason": "Changed section on day 4"})
    assert await decisions(asking) == [("seat", crew, cy, "Changed section on day 4")]
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM student WHERE squad_id = ?", crew) == 6
        trail = "".join(row[0] for row in await db.rows("SELECT details_json FROM audit_log"))
    assert "Changed section" not in trail and "Cy" not in trail


async def test_where_no_other_squad_is_there_the_coach_reads_so(begin: Begin) -> None:
    asking = await begin()
    cy = await entered(asking, "Cy", "7-B")
    assert "There is no squad yet" in (await asking.message(f"people.place:{cy}:0")).text
    await make_squad(asking, 1, 3, "Muddy Teapots")
    one = await student_id(asking, "Student 1")
    assert "There is no other squad" in (await asking.message(f"people.place:{one}:0")).text

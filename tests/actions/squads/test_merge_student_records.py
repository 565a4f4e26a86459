"""Two records of one student become one, and two again."""

from tests.actions.class_list.test_class_list_admin import attach, pick
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad
from tests.actions.squads.test_students_admin import entered, student_id
from tests.actions.squads.test_undo_correction import STUDENTS, everything, rows


async def test_two_records_of_one_student_become_one_and_two_again(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 11, 2, "Crooked Spoons")
    await attach(asking)
    cy = await entered(asking, "Ada Bee")
    await asking.ask(f"people.placed:{cy}", values=(str(squad),))
    await asking.ask(f"people.lead:{cy}")
    await pick(asking, 1, "Ada B")
    ada = await student_id(asking, "Ada B")
    before = await everything(asking)
    card = await asking.message("people.student", values=(str(ada),))
    listed = await asking.message(button(card, "Join two records").key)
    sure = await asking.message(listed.rows[0].key, values=(str(cy),))  # type: ignore[union-attr]
    assert "becomes part of **Ada B**" in sure.text
    card = await asking.message(button(sure, "Yes, they are one").key)
    assert "**Ada B** (captain), section 7-A, in **Crooked Spoons**" in card.text
    assert ("Ada B", "7-A", 1, squad) in await rows(asking, STUDENTS)
    assert "**Crooked Spoons**" in (await asking.message("squad.mine", 1)).text
    assert await rows(asking, "SELECT wanted FROM room_seat WHERE platform_id = 1") == [(1,)]
    await asking.ask(button(card, "Undo: joining the records").key)
    assert await everything(asking) == before
    assert await rows(asking, "SELECT wanted FROM room_seat WHERE platform_id = 1") == [(0,)]


async def test_records_that_clash_are_not_joined(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await make_squad(asking, 11, 2, "Muddy Teapots")
    one, two, other = [await student_id(asking, f"Student {number}") for number in (1, 2, 11)]
    assert "each have an account" in (await asking.message(f"join.done:{one}:{two}")).text
    assert "one record already" in (await asking.message(f"join.done:{one}:{one}")).text
    await asking.ask(f"people.let-gone:{other}")
    assert "are in two squads" in (await asking.message(f"join.done:{one}:{other}")).text

"""The coach takes a student out of a squad."""

from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad
from tests.actions.squads.test_students_admin import student_id


async def test_the_coach_takes_a_student_out_and_the_squad_reads_what_was_shown_before(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 3, "Muddy Teapots")
    three = await student_id(asking, "Student 3")
    sure = await asking.message(f"people.out:{three}")
    said = sure.text.split("> ")[1]
    after = await asking.message(button(sure, "Yes, take out").key)
    assert "without a squad" in after.text
    assert (await asking.messages_to(f"squad/{moles}"))[-1].startswith(said)
    assert "is in no squad" in (await asking.message(f"people.taken:{three}")).text

"""Who may leave a squad after sign-up has closed, and that a coach can undo it."""

from storage.tables import squads
from tests.actions.conftest import Begin, button
from tests.actions.squads.test_exclusive_roles import TEACHER, teacher_in_a_squad


async def test_what_a_manager_left_late_can_be_undone_by_another_coach(begin: Begin) -> None:
    asking = await teacher_in_a_squad(begin)
    await asking.yes("squad.leave", "Yes, leave", TEACHER, manages_server=True)
    page = await asking.message("people.student", values=("1",))
    await asking.ask(button(page, "Undo: the move").key)
    async with asking.store.read() as db:
        assert len(await squads.members(db, 1)) == 2


async def test_a_student_without_the_right_leaves_no_squad_after_the_close(begin: Begin) -> None:
    asking = await teacher_in_a_squad(begin)
    assert "Sign-up is closed" in (await asking.message("squad.left", TEACHER)).text

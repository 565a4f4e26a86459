"""One press undoes what the coach has put right, while it is the last and nothing hangs on it."""

from typing import Any

from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import make_squad
from tests.actions.squads.test_students_admin import entered, student_id


async def rows(asking: Asking, sql: str) -> list[tuple[Any, ...]]:
    async with asking.store.read() as db:
        return [tuple(row) for row in await db.rows(sql)]


STUDENTS = "SELECT name, section, platform_id, squad_id FROM student ORDER BY id"


async def everything(asking: Asking) -> list[object]:
    """All that corrections may touch."""
    return [
        await rows(asking, f"SELECT * FROM {table} ORDER BY 1, 2")
        for table in ("student", "class_list_entry", "hand_in", "presence", "rules_question")
    ] + [await rows(asking, "SELECT id, name, captain_id FROM squad")]


async def test_a_correction_that_something_hangs_on_is_not_undone(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    one = await student_id(asking, "Student 1")
    card = await asking.filled(f"correct.ask:{one}", fields={"name": "Stella One", "section": "7-A"})
    undo = button(card, "Undo: name or section").key
    await asking.filled(f"correct.ask:{one}", fields={"name": "Stella Two", "section": "7-A"})
    assert "something later was put right" in (await asking.message(undo)).text
    assert ("Stella Two", "7-A", 1, 1) in await rows(asking, STUDENTS)


async def test_a_move_is_undone_with_the_captain_and_the_old_place_in_line(begin: Begin) -> None:
    asking = await begin()
    spoons = await make_squad(asking, 1, 3, "Crooked Spoons")
    moles = await make_squad(asking, 11, 2, "Muddy Teapots")
    before = await everything(asking)
    one = await student_id(asking, "Student 1")
    card = await asking.message(f"people.placed:{one}", values=(str(moles),))
    assert await rows(asking, f"SELECT captain_id FROM squad WHERE id = {spoons}") != [(one,)]
    await asking.ask(button(card, "Undo: the move").key)
    assert await everything(asking) == before
    assert (await asking.messages_to(f"squad/{spoons}"))[-1].endswith("Student 1 has joined the squad.")
    assert (await asking.messages_to(f"squad/{moles}"))[-1].endswith("Student 1 has left the squad.")
    async with asking.store.read() as db:
        wanted = {
            row["squad_id"]: row["wanted"] for row in await db.rows("SELECT * FROM room_seat WHERE platform_id = 1")
        }
    assert wanted == {spoons: 1, moles: 0}


async def test_a_move_is_not_undone_once_a_squad_has_run(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    moles = await make_squad(asking, 11, 2, "Muddy Teapots")
    card = await asking.message(f"people.placed:{await student_id(asking, 'Student 2')}", values=(str(moles),))
    async with asking.store.write() as db:
        await db.run(
            "INSERT INTO attempt (squad_id, event, measure, number, recorded_by, recorded_at) "
            "VALUES (?, 'run', 'socks', 1, 0, '2027-02-01T00:00:00.000000+00:00')",
            moles,
        )
    assert "hangs on it" in (await asking.message(button(card, "Undo: the move").key)).text


async def test_a_move_is_not_undone_once_somebody_else_has_the_seat(begin: Begin) -> None:
    asking = await begin()
    full = await make_squad(asking, 1, 5, "Crooked Spoons")
    other = await make_squad(asking, 11, 3, "Muddy Teapots")
    largest = (await asking.tryout()).plan.squads.largest
    assert largest == 5
    one = await student_id(asking, "Student 2")
    await asking.ask(f"people.placed:{one}", values=(str(other),))
    new = await entered(asking, "Late Lee")
    await asking.ask(f"people.placed:{new}", values=(str(full),))
    card = await asking.message("people.student", values=(str(one),))
    undo = button(card, "Undo: the move").key
    assert "cannot be undone" in (await asking.message(undo)).text
    assert await rows(asking, f"SELECT count(*) FROM student WHERE squad_id = {full}") == [(largest,)]
    await asking.ask(f"people.taken:{new}")
    assert "**Student 2**" in (await asking.message(undo)).text
    assert await rows(asking, f"SELECT count(*) FROM student WHERE squad_id = {full}") == [(largest,)]


async def test_a_squads_new_name_is_undone_unless_it_was_renamed_since(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    card = await asking.filled(f"people.rename:{squad}", fields={"squad": "Kind Teapots"})
    undo = button(card, "Undo: the new name").key
    assert "called **Crooked Spoons** again" in (await asking.message(undo)).text
    assert "Crooked Spoons" in (await asking.messages_to(f"squad/{squad}"))[-1]
    card = await asking.filled(f"people.rename:{squad}", fields={"squad": "Kind Teapots"})
    await asking.filled("squad.rename", 1, fields={"squad": "Odd Mittens"})
    assert "hangs on it" in (await asking.message(button(card, "Undo: the new name").key)).text

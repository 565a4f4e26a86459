"""Who comes after sign-up had closed is made known to the coach."""

from storage.tables import squads, students
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import texts
from tests.actions.squads.test_my_squad import LATE, mine


async def test_who_comes_after_sign_up_tells_the_coach_once_and_stands_in_the_digest_until_placed(begin: Begin) -> None:
    asking = await begin("judging")
    async with asking.store.write() as db:
        squad = await squads.add_squad(
            db, (await asking.tryout()).id, "Crooked Spoons", ("spoons", "spoons", "spoons"), "7-A", "ABCDE", asking.now
        )
    lost = await asking.message("squad.mine", 900)
    assert "not in a squad" in lost.text
    form = await asking.form(button(lost, "I came late").key, 900)
    assert form.title == "I came late"
    for _ in range(2):
        told = await asking.message(form.key, 900, fields=LATE)
        assert "told your coach" in told.text
    known = await asking.message("squad.mine", 900)
    assert "Your coach knows" in known.text and "came late" not in known.text
    assert next(one.label for row in known.rows if isinstance(row, tuple) for one in row) == "My squad"
    said = [text for text in await asking.messages_to("office") if "came late" in text]
    assert said == ["**Flo** of section 7-A came late and has no squad."]
    async with asking.store.read() as db:
        one = await students.student_of(db, (await asking.tryout()).id, 900)
    assert one is not None
    await asking.ask(f"people.placed:{one.id}", values=(str(squad),))
    assert "Crooked Spoons" in await mine(asking, 900)
    assert "already" in (await asking.message("student.late", 900)).text


async def test_who_needed_a_squad_when_sign_up_closed_is_not_told_to_have_come_late(begin: Begin) -> None:
    asking = await begin("judging")
    async with asking.store.write() as db:
        one = await students.add_student(db, (await asking.tryout()).id, 901, "Ida", "7-A")
        await students.set_looking(db, one, True)
    assert "Your coach knows, and can still put you in one" in await mine(asking, 901)


async def test_nobody_is_late_before_sign_up_closes(begin: Begin) -> None:
    asking = await begin("signup")
    assert "still open" in (await asking.message("student.late", 900)).text


async def test_nobody_is_late_after_the_result(begin: Begin) -> None:
    over = await begin("announced")
    assert "nearly over" in (await over.message("student.late", 900)).text
    message = await over.message("squad.mine", 900)
    assert "nearly over" in message.text and "talk to your coach" in message.text
    assert not {"I came late", "Join a squad", "Start a squad"} & set(texts(message))

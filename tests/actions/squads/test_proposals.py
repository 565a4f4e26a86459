"""Nobody is left out: wishes are private, squads are proposed, changed, accepted, and agreed to by a press."""

from typing import Any

from storage.records.message import Message
from tests.actions.conftest import COACH, Asking, Begin, button, select
from tests.actions.office_cast import make_squad
from tests.actions.squads.test_students_admin import entered, student_id

ACCEPT = "Accept: students may answer"


SEAT_ALL = "Seat all who have not answered"


YES = "Yes, I agree"


NO = "No, thank you"


async def lonely(asking: Asking, first: int, number: int, section: str = "7-A") -> None:
    """Students who need a squad."""
    for who in range(first, first + number):
        await asking.ask("student.enter:look", who, fields={"name": f"Student {who}", "section": section})


async def wish(asking: Asking, who: int, *others: int, together: bool = True) -> Message:
    page = await asking.message("wish.show", who)
    values = tuple([str(await student_id(asking, f"Student {other}")) for other in others])
    return await asking.message(select(page, "With" if together else "Rather not with").key, who, values=values)


async def propose(asking: Asking) -> Message:
    """Let squads be looked for, and students answer."""
    return await asking.message(button(await asking.message("proposal.look"), ACCEPT).key)


async def say(asking: Asking, who: int, label: str = YES) -> Message:
    """Answer what is proposed now, by the button under it."""
    return await asking.message(button(await asking.message("squad.mine", who), label).key, who)


async def squad_of(asking: Asking, who: int) -> Any:
    async with asking.store.read() as db:
        return await db.value(
            "SELECT squad.name FROM student JOIN squad ON squad.id = squad_id WHERE platform_id = ?", who
        )


async def test_too_few_who_agree_are_told_to_the_coach_once(begin: Begin) -> None:
    asking = await begin()
    await lonely(asking, 1, 4)
    await propose(asking)
    for who, said in ((1, NO), (2, NO), (3, YES), (4, YES)):
        await say(asking, who, said)
    told = [text for text in await asking.messages_to("office") if "too few" in text]
    assert len(told) == 1 and "only 2 students agreed: Student 3 and Student 4" in told[0]
    assert [await squad_of(asking, who) for who in (3, 4)] == [None, None]


async def test_the_coach_changes_the_proposal_and_an_illegal_one_is_not_accepted(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 11, 3, "Crooked Spoons")
    await lonely(asking, 1, 3)
    draft = await asking.message("proposal.look")
    one = await student_id(asking, "Student 1")
    places = await asking.message(select(draft, "Propose something else for").key, values=(str(one),))
    assert select(places, "Pick a squad").choices[0].label == "Crooked Spoons"
    changed = await asking.message(select(places, "Pick a squad").key, values=("new-9",))
    assert "new squad 9: Student 1" in changed.text
    assert "would be a squad of 1;" in (await asking.message(button(changed, ACCEPT).key)).text
    changed = await asking.message(f"proposal.changed:{one}", values=("none-",))
    assert "without a place: Student 1" in changed.text
    dropped = await asking.message(button(changed, "Drop it").key)
    assert "Without a squad: 3 in section 7-A" in dropped.text


async def test_the_coach_waits_no_longer(begin: Begin) -> None:
    asking = await begin()
    await lonely(asking, 1, 3)
    page = await propose(asking)
    page = await asking.message(button(page, SEAT_ALL).key)
    assert "Everybody of the proposal has a squad now" in page.text
    assert await squad_of(asking, 3) == "New squad 1"


async def test_for_whom_there_is_no_place_it_is_said_why(begin: Begin) -> None:
    asking = await begin()
    assert "nothing to propose" in (await asking.message("proposal.look", COACH)).text
    await lonely(asking, 1, 2)
    assert "too few for a squad of their own" in (await asking.message("proposal.look")).text


async def filled_up(begin: Begin) -> Asking:
    """Two students are proposed for a squad, which fills up before they answer."""
    asking = await begin()
    await make_squad(asking, 11, 3, "Crooked Spoons")
    await lonely(asking, 1, 2)
    await propose(asking)
    for name in ("Ann", "Bob"):
        await entered(asking, name)
        await asking.ask(f"people.placed:{await student_id(asking, name)}", values=("1",))
    return asking


async def test_one_place_that_is_gone_does_not_stop_the_others(begin: Begin) -> None:
    asking = await filled_up(begin)
    await lonely(asking, 21, 3)
    async with asking.store.write() as db:
        for who in (21, 22, 23):
            student = int(await student_id(asking, f"Student {who}"))
            await db.run("INSERT INTO proposed_seat (student_id, tryout_id, new_squad) VALUES (?, 1, 1)", student)
    page = await asking.message(button(await asking.message("proposal.show"), SEAT_ALL).key)
    assert "squad of Student 1 and Student 2 is full or gone" in page.text
    assert await squad_of(asking, 21) == await squad_of(asking, 23) == "New squad 1"


async def test_what_another_coach_has_changed_since_is_neither_accepted_nor_dropped_unseen(begin: Begin) -> None:
    asking = await begin()
    await lonely(asking, 1, 4)
    draft = await asking.message("proposal.look")
    await asking.ask(f"proposal.changed:{await student_id(asking, 'Student 1')}", values=("none-",))
    for old in (button(draft, ACCEPT), button(draft, "Drop it")):
        assert "has changed after you opened it" in (await asking.message(old.key)).text
    again = await asking.message(button(draft, ACCEPT).key)
    assert "without a place: Student 1" in again.text
    assert "Nothing is proposed" in (await asking.message("proposal.yes", 2)).text
    assert "I have asked 3 students" in (await asking.message(button(again, ACCEPT).key)).text


async def test_nor_is_one_dropped_that_students_answer_by_now(begin: Begin) -> None:
    asking = await begin()
    await lonely(asking, 1, 3)
    draft = await asking.message("proposal.look")
    accepted = await asking.message(button(draft, ACCEPT).key)
    again = await asking.message(button(draft, "Drop it").key)
    assert "(accepted, students answer)" in again.text and "has changed" in again.text
    await say(asking, 1)
    assert "Without a squad: 3" in (await asking.message(button(accepted, "Drop it").key)).text, (
        "answers change no place"
    )


async def test_nobody_is_seated_by_a_press_for_a_place_that_was_changed_since(begin: Begin) -> None:
    asking = await begin()
    await lonely(asking, 1, 4)
    accepted = await propose(asking)
    await asking.ask(f"proposal.changed:{await student_id(asking, 'Student 4')}", values=("none-",))
    again = await asking.message(button(accepted, SEAT_ALL).key)
    assert "has changed" in again.text and await squad_of(asking, 1) is None
    await asking.ask(button(again, SEAT_ALL).key)
    assert [await squad_of(asking, who) for who in (1, 4)] == ["New squad 1", None]

"""Whoever takes part holds no office, whichever came first."""

from datetime import timedelta

import pytest

from bot.actions.judging.judges_admin import enrol
from storage.records.request import Person
from storage.tables import helpers, squads, students, tryouts
from tests.actions.conftest import Asking, Begin, button
from tests.actions.squads.test_proposals import propose, say

CHILD, HELPER, JUDGE, TEACHER = 1, 300, 400, 500
START = {"squad": "Crooked Spoons", "name": "Ada", "section": "7-A"}


@pytest.mark.parametrize("action", ["people.coach", "people.scorekeeper", "people.typist", "judges.add"])
async def test_whoever_is_in_a_squad_gets_no_office(begin: Begin, action: str) -> None:
    asking = await begin()
    await asking.ask("squad.found", CHILD, fields=START)
    answer = await asking.message(action, people=(Person(id=CHILD, name="Ada"),))
    assert "is in the squad **Crooked Spoons**" in answer.text
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        assert await helpers.roles_held(db, tryout.id, CHILD) == {"competitor"}


async def officers(asking: Asking) -> None:
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, HELPER, "Sam", "scorekeeper")
        await enrol(db, tryout.id, JUDGE, "Jo")


@pytest.mark.parametrize("who", [HELPER, JUDGE])
async def test_whoever_helps_gets_no_seat_in_a_squad_by_any_path(begin: Begin, who: int) -> None:
    asking = await begin()
    await officers(asking)
    await asking.ask("squad.found", CHILD, fields=START)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        (squad,) = await squads.squads(db, tryout.id)
    fields = {"squad": "Muddy Teapots", "name": "Sam", "section": "7-A", "code": squad.join_code}
    for key in ("squad.found", "student.enter:list", "student.enter:look", "squad.join-by-code"):
        assert "cannot be in a squad" in (await asking.message(key, who, fields=fields)).text, key
    async with asking.store.write() as db:
        student = await students.enter_student(db, tryout.id, who, "Sam", "7-A")
    for key in (f"people.placed:{student}", f"people.excepted:{student}:{squad.id}"):
        answer = await asking.message(key, values=(str(squad.id),), fields={"reason": "because"})
        assert "cannot be in a squad" in answer.text, key
    joined = await asking.message("squad.join", who, values=(str(squad.id),))
    assert "cannot be in a squad" in joined.text


async def test_who_holds_both_from_earlier_is_a_competitor_only(begin: Begin) -> None:
    asking = await begin("judging")
    await officers(asking)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        for who in (HELPER, JUDGE):
            student = await students.student(db, await students.enter_student(db, tryout.id, who, f"S{who}", "7-A"))
            assert student is not None
            squad = await squads.add_squad(
                db, tryout.id, f"Squad {who}", (f"s{who}", f"s{who}", f"s{who}"), "7-A", f"C{who}", asking.now
            )
            await students.seat(db, student, squad, asking.now)
    for key, who in (("table.panel", HELPER), ("sheets.list", JUDGE)):
        said = await asking.message(key, who)
        assert "you act as a student here" in said.text and button(said, "Leave").key == "squad.leave", key
    left = await asking.yes("squad.leave", "Yes, leave", HELPER)
    assert "You can help to run this try-out again." in left.text
    assert "**The table.**" in (await asking.message("table.panel", HELPER)).text


@pytest.mark.parametrize(
    "key",
    ["squad.start", "squad.found", "squad.list", "squad.code", "squad.looking", "wish.show"],
)
async def test_whoever_may_manage_the_server_is_a_coach_and_joins_no_squad(begin: Begin, key: str) -> None:
    asking = await begin()
    said = await asking.message(key, TEACHER, manages_server=True, fields=START)
    assert "coaches are in no squad" in said.text
    async with asking.store.read() as db:
        assert await students.students(db, (await asking.tryout()).id) == []


async def teacher_in_a_squad(begin: Begin) -> Asking:
    """Somebody signed up with a friend, and may manage the class server since; sign-up is closed."""
    asking = await begin()
    await asking.ask("squad.found", TEACHER, fields=START | {"name": "Ms Bell"})
    asking.now += timedelta(days=7)
    async with asking.store.write() as db:
        (squad,) = await squads.squads(db, 1)
        friend = await students.student(db, await students.enter_student(db, 1, CHILD, "Ada", "7-A"))
        assert friend is not None
        await students.seat(db, friend, squad.id, asking.now)
        await tryouts.set_state(db, 1, "judging")
    return asking


async def test_who_competes_and_then_may_manage_the_server_is_a_student_until_the_squad_is_left(begin: Begin) -> None:
    asking = await teacher_in_a_squad(begin)
    assert "Leave" not in str((await asking.message("squad.mine", TEACHER)).rows)
    assert "Ms Bell" not in (await asking.message("office")).text
    said = await asking.message("office", TEACHER, manages_server=True)
    assert "you act as a student here" in said.text and button(said, "Leave").key == "squad.leave"
    # The other coaches read it in the office, whatever the next step is.
    assert "In a squad, so students only" in (told := (await asking.message("office")).text) and "Ms Bell" in told
    page = await asking.message("squad.mine", TEACHER, manages_server=True)
    assert "as long as you are in a squad you act as a student" in page.text
    assert button(page, "Leave").key == "squad.leave"
    left = await asking.yes("squad.leave", "Yes, leave", TEACHER, manages_server=True)
    assert "You can help to run this try-out again." in left.text
    assert "judging" in (await asking.message(button(left, "Office").key, TEACHER, manages_server=True)).text
    assert "Ms Bell" not in (await asking.message("office")).text
    (told,) = await asking.messages_to("office")
    assert told.startswith("**Ms Bell** has left **Crooked Spoons** to help")


async def test_who_agreed_to_a_squad_and_helps_since_is_not_seated_when_it_is_founded(begin: Begin) -> None:
    asking = await begin()
    async with asking.store.write() as db:
        for who in (HELPER, CHILD, CHILD + 1, CHILD + 2):
            await students.enter_student(db, 1, who, f"Student {who}", "7-A")
    await propose(asking)
    await say(asking, HELPER)
    assert "Sam" in (await asking.message("people.typist", people=(Person(id=HELPER, name="Sam"),))).text
    for who in (CHILD, CHILD + 1, CHILD + 2):
        await say(asking, who)
    async with asking.store.read() as db:
        assert sorted(one.platform_id or 0 for one in await squads.members(db, 1)) == [CHILD, CHILD + 1, CHILD + 2]

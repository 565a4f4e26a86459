"""Whoever takes part holds no office, whichever came first."""

import pytest

from storage.records.request import Person
from storage.tables import judges, squads, tryouts
from tests.actions.conftest import Asking, Begin

CHILD, HELPER, JUDGE = 1, 300, 400
START = {"squad": "Crooked Spoons", "name": "Ada", "section": "7-A"}


@pytest.mark.parametrize("action", ["people.coach", "people.scorekeeper", "people.typist", "judges.add"])
async def test_whoever_is_in_a_squad_gets_no_office(begin: Begin, action: str) -> None:
    asking = await begin()
    await asking.ask("squad.found", CHILD, fields=START)
    answer = await asking.message(action, people=(Person(id=CHILD, name="Ada"),))
    assert "is in the squad **Crooked Spoons**" in answer.text
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        assert await tryouts.roles_held(db, tryout.id, CHILD) == {"competitor"}


async def officers(asking: Asking) -> None:
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await tryouts.add_officer(db, tryout.id, HELPER, "Sam", "scorekeeper")
        await judges.enrol(db, tryout.id, JUDGE, "Jo")


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
        student = await squads.enter_student(db, tryout.id, who, "Sam", "7-A")
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
            student = await squads.student(db, await squads.enter_student(db, tryout.id, who, f"S{who}", "7-A"))
            assert student is not None
            squad = await squads.add_squad(
                db, tryout.id, f"Squad {who}", (f"s{who}", f"s{who}"), "7-A", f"C{who}", asking.now
            )
            await squads.seat(db, student, squad, asking.now)
    assert "Only a coach or a scorekeeper" in (await asking.message("table.panel", HELPER)).text
    assert "Only a judge" in (await asking.message("sheets.list", JUDGE)).text

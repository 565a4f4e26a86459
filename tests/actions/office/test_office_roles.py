"""Every action of the office, the set-up, the plan and the people, asked for by everybody who could press it."""

import pytest

from bot.actions.core.dispatch import ACTIONS
from bot.actions.judging.judges_admin import enrol
from storage.records.message import Open, Say
from storage.records.request import Person
from storage.tables import helpers
from tests.actions import office_cast
from tests.actions.conftest import COACH, Asking, Begin

MINE = ("office", "setup.", "plan.", "people.", "signup.", "brief.", "tryout.")
STUDENT, JUDGE, KEEPER, HELPER = 1, 2, 3, 4
FOR_ALL = {"brief.file", "brief.open", "brief.page"}
FOR_MANAGERS = {"plan.begin", "plan.begun", "plan.again", "plan.reused"}
UNBEGUN = FOR_MANAGERS | {"office", "office.again", "plan.file", "plan.use", "setup.invite"}
OFFICE = sorted(key for key in ACTIONS if key.startswith(MINE))


async def class_of(asking: Asking) -> None:
    """A judge, a scorekeeper and a coach who does not manage the server."""
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await enrol(db, tryout.id, JUDGE, "Judge")
        await helpers.add_officer(db, tryout.id, KEEPER, "Keeper", "scorekeeper")
        await helpers.add_officer(db, tryout.id, HELPER, "Coach", "coach")


async def state_of(asking: Asking) -> str:
    """Everything that an action could have changed."""
    async with asking.store.read() as db:
        tables = [
            row["name"]
            for row in await db.rows("SELECT name FROM sqlite_master WHERE type = 'table'")
            if row["name"] != "processed_interaction"
        ]
        return str([tuple(row) for table in tables for row in await db.rows(f"SELECT * FROM {table}")])


def refusal(answer: object) -> str:
    """What was said, when it was a private no."""
    return answer.message.text if isinstance(answer, Say) else ""


def test_the_office_has_the_actions_that_its_buttons_lead_to() -> None:
    assert len(OFFICE) > 50
    assert {key for key in OFFICE if ACTIONS[key].unbegun} == UNBEGUN
    assert {key for key in OFFICE if ACTIONS[key].role == "anyone"} == FOR_ALL
    assert {key for key in OFFICE if ACTIONS[key].role == "manager"} == FOR_MANAGERS
    assert {ACTIONS[key].role for key in OFFICE} == {"anyone", "coach", "manager"}


@pytest.mark.parametrize("key", [key for key in OFFICE if key not in FOR_ALL])
@pytest.mark.parametrize("who", [STUDENT, JUDGE, KEEPER])
async def test_whoever_is_no_coach_is_refused_and_nothing_happens(begin: Begin, key: str, who: int) -> None:
    asking = await begin("signup")
    await class_of(asking)
    before = await state_of(asking)
    answer = await asking.ask(f"{key}:1:1", who, values=("1",), people=(Person(id=9, name="Nobody"),), fields={})
    expected = "Only someone who manages this server" if key in FOR_MANAGERS else "Only a coach can do that"
    assert refusal(answer).startswith(expected)
    assert await state_of(asking) == before


@pytest.mark.parametrize("key", sorted(FOR_MANAGERS))
async def test_a_coach_who_does_not_manage_the_server_begins_no_try_out(begin: Begin, key: str) -> None:
    asking = await begin("signup")
    await class_of(asking)
    assert "Only someone who manages this server" in refusal(await asking.ask(key, HELPER, fields={}))


@pytest.mark.parametrize("key", OFFICE)
async def test_before_there_is_a_try_out_only_who_manages_the_server_gets_anywhere(nobody: Asking, key: str) -> None:
    before = await state_of(nobody)
    said = refusal(await nobody.ask(f"{key}:0", STUDENT, fields={}))
    assert said.startswith(("No try-out is running", "Only someone who manages this server"))
    if key not in UNBEGUN:
        assert refusal(await nobody.ask(f"{key}:0", COACH, fields={})).startswith("No try-out is running")
    assert await state_of(nobody) == before


SAFE = sorted(key for key in OFFICE if not ACTIONS[key].writes and ACTIONS[key].role == "coach")


@pytest.mark.parametrize("key", SAFE)
async def test_a_coach_who_does_not_manage_the_server_may_look_at_everything(begin: Begin, key: str) -> None:
    asking = await begin("signup")
    await class_of(asking)
    # Student 1 is in squad 1, which is small like squad 2.
    await office_cast.make_squad(asking, 11, 2, "Crooked Spoons")
    await office_cast.make_squad(asking, 21, 2, "Muddy Teapots")
    answer = await asking.ask(f"{key}:1:2", HELPER, values=("1",), people=(Person(id=JUDGE, name="Judge"),))
    if not isinstance(answer, Open):
        assert not answer.message.text.startswith("Only ")

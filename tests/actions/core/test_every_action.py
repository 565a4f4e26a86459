"""Nobody does what is not theirs: every action there is, asked for by everyone who may not."""

import pytest

from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.registry import register_all
from bot.actions.judging.judges_admin import enrol
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.roles import ONLY, Role
from bot.words.core.refusals import lines
from storage.records.message import Say
from storage.tables import helpers
from tests.actions.conftest import COACH, SERVER, Asking, Begin

register_all()

STRANGER, STUDENT, JUDGE, KEEPER, SECOND_COACH = 900, 1, 801, 802, 803
HELD: dict[int, set[Role]] = {
    STRANGER: {"anyone"},
    STUDENT: {"anyone"},
    JUDGE: {"anyone", "judge"},
    KEEPER: {"anyone", "scorekeeper", "recorder"},
    SECOND_COACH: {"anyone", "scorekeeper", "typist", "recorder", "coach"},
}


async def everyone(begin: Begin) -> Asking:
    asking = await begin()
    await asking.ask("squad.found", STUDENT, fields={"squad": "Crooked Spoons", "name": "Ada", "section": "7-A"})
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await enrol(db, tryout.id, JUDGE, "Dov")
        await helpers.add_officer(db, tryout.id, KEEPER, "Keeper", "scorekeeper")
        await helpers.add_officer(db, tryout.id, SECOND_COACH, "Second", "coach")
    return asking


async def trail_length(asking: Asking) -> int:
    async with asking.store.read() as db:
        return int(await db.value("SELECT count(*) FROM audit_log"))


GUARDED = sorted((action for action in ACTIONS.values() if action.role != "anyone"), key=lambda action: action.key)


def test_there_is_something_to_guard() -> None:
    assert len(GUARDED) > 100


@pytest.mark.parametrize("who", sorted(HELD))
async def test_every_action_is_refused_to_whoever_does_not_hold_its_role(begin: Begin, who: int) -> None:
    asking = await everyone(begin)
    before = await trail_length(asking)
    barred = [action for action in GUARDED if action.role not in HELD[who]]
    for action in barred:
        answer = await asking.ask(f"{action.key}:1", who, values=("1",), fields={"reason": "because"})
        assert isinstance(answer, Say), action.key
        assert answer.private, action.key
        assert answer.message.text == lines()[ONLY[action.role]], action.key
    assert await trail_length(asking) == before


async def test_in_a_direct_message_a_manager_of_the_server_is_nobody(begin: Begin) -> None:
    asking = await everyone(begin)
    for action in GUARDED:
        answer = await asking.ask(f"{action.key}:1", COACH, server_id=None, manages_server=False, values=("1",))
        assert isinstance(answer, Say)
        assert answer.message.text in (lines()[Reason.NO_TRYOUT], lines()[ONLY[action.role]]), action.key


async def test_on_another_server_nothing_of_this_try_out_can_be_reached(begin: Begin) -> None:
    asking = await everyone(begin)
    for action in GUARDED:
        if action.role == "manager":
            continue
        answer = await asking.ask(f"{action.key}:1", COACH, server_id=SERVER + 1, manages_server=False, values=("1",))
        assert isinstance(answer, Say)
        assert answer.message.text == lines()[Reason.NO_TRYOUT], action.key

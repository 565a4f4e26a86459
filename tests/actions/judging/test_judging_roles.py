"""Around judging nobody sees or does what is not theirs: every action x every role."""

import pytest

import bot.actions.judging.calibration_trial
import bot.actions.judging.judge_reminders
import bot.actions.judging.paper_sheet_entry
import bot.actions.judging.paper_sheet_print
import bot.actions.judging.reopen_after_close
import bot.actions.judging.second_look
import bot.actions.judging.typed_marks  # noqa: F401
from bot.actions.core.dispatch import ACTIONS
from bot.words.core.action_keys import ActionKey
from storage.tables import helpers
from tests.actions.conftest import COACH, Begin
from tests.actions.judging_cast import ADA, cast

HELPER, STRANGER = 150, 999
JUDGES_OWN = {"trials.look", "trials.mark", "trials.save", "trials.compare"}
COACHS_PAPER = {"paper.panel", "paper.print"}
PARTS = ("sheets", "judges", "judging", "panels", "ties", "trials", "paper")
OURS = sorted(key for key in ACTIONS if key.partition(".")[0] in PARTS)


def wanted(key: str) -> str:
    """Who may ask for an action of judging."""
    part = key.partition(".")[0]
    if part == "sheets" or key in JUDGES_OWN:
        return "judge"
    return "typist" if part == "paper" and key not in COACHS_PAPER else "coach"


@pytest.mark.parametrize("key", OURS)
async def test_whoever_lacks_the_role_is_refused_and_nothing_is_changed(begin: Begin, key: str) -> None:
    assert ACTIONS[ActionKey(key)].role == wanted(key)
    found = await cast(begin)
    await found.open()
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, HELPER, "Helper", "typist")
    may = {"judge": {ADA}, "typist": {HELPER, COACH}, "coach": {COACH}}[wanted(key)]
    async with found.asking.store.read() as db:
        before = await db.value("SELECT count(*) FROM audit_log")
    for who in {ADA, HELPER, COACH, STRANGER} - may:
        answer = await found.asking.message(f"{key}:1:1:1:1", who, values=("1",), fields={"reason": "because"})
        assert answer.text.startswith("Only a"), (key, who, answer.text)
    async with found.asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM audit_log") == before


def test_everything_around_judging_is_checked_here() -> None:
    assert len(OURS) >= 55

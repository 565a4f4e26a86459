"""What screens promise about privacy is so: the readers of each kind are those whom rooms and roles let read it."""

import ast
import re
from pathlib import Path

import pytest

from bot.actions.core.dispatch import ACTIONS
from bot.actions.judging.judges_admin import enrol
from bot.rules.core.who_reads import IN_ROOM, SHOWN, Kind, readers
from bot.words.core.action_keys import ActionKey as Key
from bot.words.core.action_keys import AnyKey
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.who_reads import who_reads
from storage.tables import helpers, squad_room_members
from tests.actions.conftest import COACH, Begin
from tests.actions.office_cast import make_squad
from tests.actions.scored import whole

WORDS = Path(__file__).parents[3] / "bot" / "words"
DOORS: dict[Kind, set[AnyKey]] = {
    "result": {Key.RESULTS_SQUAD},
    "part": {Key.HAND_IN_PARTS, Key.HAND_IN_SQUAD, Key.HAND_IN_STUDENT, Key.SHEETS_HAND_IN},
    "question": {Key.RULES_PANEL, Key.RULES_QUESTION},
    "absence": {Key.TABLE_SQUAD, Key.TABLE_ABSENCE},
    "late-part": {Key.HAND_IN_STUDENT},
    "comment": {Key.FEEDBACK_COMMENTS},
    "standings": {Key.RESULTS_PANEL, Key.RESULTS_PAGE, Key.RESULTS_FIRM, Key.RESULTS_JUDGES, Key.RESULTS_SQUADS},
    "plan": {Key.PLAN_SHOW, Key.PLAN_PAGE},
    "yes-and-no": {ClassKey.LIST_PANEL, ClassKey.LIST_FORMS, Key.PEOPLE_STUDENT},
    "protest": {ClassKey.PROTESTS, ClassKey.PROTEST_ONE},
    "incident": {ClassKey.INCIDENTS},
    "wish": {ClassKey.PROPOSAL, ClassKey.PROPOSAL_STUDENT},
    "waiting": {ClassKey.LIST_WAITING, ClassKey.LIST_WAITS},
}
"""The actions whose answers show a kind of thing."""
PROMISE = re.compile(
    r"\bonly (you|coach|your coach|your squad|the coach|judges?)\w*\b[^.]*\b(see|sees|read|reads)\b"
    r"|nobody else|no one else|(you|yours) alone|no (other )?(student|judge)s? [^.]*\b(sees?|reads?)\b|read along"
    r"|nobody (can )?(see|read)s?\b|can (see|read) this",
    re.IGNORECASE,
)
BY_HAND = {
    "server_channels.py": "asks the coach for a channel that only coaches can see",
    "panels.py": "says which judges see which squads, not who reads what",
    "who_reads.py": "makes the sentences",
}
"""Files whose sentences only sound like promises of privacy, and why."""


@pytest.mark.parametrize("kind", sorted(DOORS))
def test_the_roles_that_may_ask_are_those_of_the_actions_that_show_it(kind: Kind) -> None:
    roles = {"member" if ACTIONS[key].role == "anyone" else ACTIONS[key].role for key in DOORS[kind]}
    assert roles == SHOWN[kind].roles


async def test_the_seats_of_a_squads_room_are_its_readers(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    await make_squad(asking, 11, 3, "Muddy Teapots")
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await enrol(db, tryout.id, 201, "Dov")
        for who, role in ((202, "scorekeeper"), (203, "typist"), (204, "coach")):
            await helpers.add_officer(db, tryout.id, who, "Helper", role)
        await squad_room_members.adjust_seats(db)
        seated = {seat.platform_id for seat in await squad_room_members.seats(db, squad) if seat.wanted}
    by_reader = {"squad": {1, 2, 3}, "coaches": {COACH, 204}}
    assert seated == set().union(*(by_reader[one] for one in IN_ROOM["squad"]))


async def test_a_squads_own_way_is_shown_to_no_other_squad(begin: Begin) -> None:
    asking, squads = await whole(begin, 2)
    for door in DOORS["result"] | DOORS["standings"] | DOORS["comment"]:
        answer = await asking.message(f"{door}:{squads[0]}", 10_100)
        assert "Only a coach can do that" in answer.text, door


def test_the_sentences() -> None:
    assert who_reads("result") == "Only your squad and coaches can read this."
    assert who_reads("part", "it") == "Only your squad, the judges of your squad and coaches can read it."
    assert who_reads("absence", "it") == "Only scorekeepers and coaches can read it."
    assert who_reads("board", "your name") == "Everyone in this channel can read your name."
    assert all(readers(kind) for kind in SHOWN)


def test_no_promise_is_written_by_hand() -> None:
    found = {}
    for path in sorted(WORDS.rglob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        # A string that is a statement by itself says what something is for, and is shown to nobody.
        notes = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        for node in ast.walk(tree):
            text = node.value if isinstance(node, ast.Constant) and id(node) not in notes else None
            if isinstance(text, str) and PROMISE.search(text) and path.name not in BY_HAND:
                found[path.name] = text
    assert found == {}

"""What a result is computed from stays as it was: after judging is closed by one press alone, and after the result is
announced by any press.
"""

from datetime import datetime
from typing import Any

import pytest

from bot.actions.core.dispatch import ACTIONS, Action, _ask
from bot.actions.scoring.score_book import score_book, standings_of
from bot.rules.core.refusal import Refusal
from storage.records.request import Person, Request
from storage.records.tryout import State, Tryout
from storage.tables import helpers, judges, tryouts
from storage.tables.sql_session import Conflict, Transaction, stamp
from tests.actions.conftest import COACH, SERVER, Begin
from tests.actions.core.test_role_matrix import BY_NAME, FIELDS, Undone
from tests.actions.scored import whole
from tests.actions.table_help import hand_in

GONE = 77
"""A judge who was removed after marking, and whom whoever picks people picks."""
PEOPLE = {"coach": COACH, "scorekeeper": 301, "typist": 302, "judge": 201, "captain": 10_100}
LISTED = {"people.withdrawn"}
"""What one coach may do after the close: it is a decision, and listed with the result with its reason."""
WHOLE = {
    "table.save": ("run.socks", "{}", "2", "30", "0"),
    "table.undone": ("{}", "slip"),
    "sheets.save": ("{}", "0", "1", "1"),
}
"""Arguments that would do something, where the usual ones do not."""


def asked(action: Action, who: int, number: int, at: datetime) -> Request:
    """A request about the sheet, squad, student or attempt of this number."""
    takes = action.arguments[action.run]
    args = [str(BY_NAME.get(name, number)) for name in takes.names[: len(takes.required)]]
    args = [one.format(number) for one in WHOLE.get(str(action.key), ())] or args
    values = tuple(str(number) for _ in range(1 if takes.picked else 0))
    return Request(
        id=1, at=at, who=who, name="Somebody", server_id=SERVER, manages_server=who == COACH,
        args=tuple(args), values=values, fields=FIELDS, people=(Person(id=GONE, name="Somebody"),) * (number % 2),
    )  # fmt: skip


async def result_of(db: Transaction, tryout: Tryout) -> Any:
    """Everything that is computed, by squad; who may be ranked, too."""
    found = standings_of(await score_book(db, tryout))
    return found.rows, found.ties, found.placed, found.complete


async def changing(db: Transaction, at: datetime) -> set[str]:
    """The actions that change what the result is computed from, by one press of somebody."""
    tryout = await tryouts.running(db, SERVER)
    assert tryout is not None
    before, found = await result_of(db, tryout), set()
    for action in (one for one in ACTIONS.values() if one.writes):
        for who in PEOPLE.values():
            for number in (1, 2, 3, 6):
                try:
                    async with db.undoable():
                        request = asked(action, who, number, at)
                        prepared: dict[str, Any] = {}
                        if action.before is not None:
                            prepared["prepared"] = (await _ask(db, action, action.before, request))()
                        await _ask(db, action, action.run, request, **prepared)
                        now = await tryouts.running(db, SERVER)
                        if now is not None and await result_of(db, now) != before:
                            found.add(str(action.key))
                        raise Undone
                except (Undone, Refusal, Conflict):
                    pass
    return found


@pytest.mark.parametrize("state", ["judging", "settled", "announced"])
async def test_no_press_changes_a_result_that_stands_and_none_alone_one_that_can_be_seen(
    begin: Begin, state: State
) -> None:
    asking, squads = await whole(begin, state="judging")
    async with asking.store.write() as db:
        gone = await judges.add(db, 1, 3, GONE, "Gone")
    for squad in squads:
        await hand_in(asking, gone, squad, "bunting", "bunting", {"reasons": 1, "theme": 1})
    async with asking.store.write() as db:
        await judges.remove(db, gone)
        await helpers.add_officer(db, 1, 301, "Kim", "scorekeeper")
        await helpers.add_officer(db, 1, 302, "Tom", "typist")
        await tryouts.set_state(db, 1, state)
        await db.run("UPDATE tryout SET brief_at = created_at")
        await db.run("UPDATE sheet SET state = 'open' WHERE id = (SELECT max(id) FROM sheet WHERE judge_id = 1)")
        if state == "announced":
            await tryouts.set_announced(db, 1, asking.now)
        if state != "settled":
            # One sheet can be marked, or is open again: older versions announced then all the same.
            await db.run("INSERT INTO reopening (sheet_id, reason, at) VALUES (1, 'x', ?)", stamp(asking.now))
        found = await changing(db, asking.now)
    if state == "judging":
        reached = {"table.save", "table.undone", "sheets.save", "judges.add", "judges.removed", "people.withdrawn"}
        assert found >= reached, "the presses reach it"
    else:
        assert found == (LISTED if state == "settled" else set())

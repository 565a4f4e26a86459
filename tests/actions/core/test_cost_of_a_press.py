"""What a press costs does not grow with the class: as many statements and as many live messages to show."""

import re
import sqlite3
from collections.abc import Awaitable, Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from bot.actions.delivery.pending_work import find_pending_work
from bot.rules.squads.join_and_link_codes import join_code
from bot.words.core.custom_ids import shown_stamp
from storage.records.message import Open
from storage.records.tryout import State
from storage.tables import scheduled_jobs
from tests.actions.filled_class import FIRST_TURN, Cost, LargeClass, large_class

SMALL, LARGE = 10, 300
TURN = (str(int(FIRST_TURN.timestamp())),)
SQUAD = {"squad": "Left Feet", "name": "Ann", "section": "7-A"}
RENAMED = f"squad.renamed:{shown_stamp([('squad', 'Squad 002')])[:12]}"
MARKS = {"level-reasons": "2", "level-theme": "1"}

Press = Callable[[LargeClass], Awaitable[Any]]

WINDOW: dict[str, Press] = {
    "start a squad": lambda one: one.ask("squad.found", 5001, fields=SQUAD),
    "join by code": lambda one: one.ask(
        "squad.join-by-code", 5002, fields={"code": join_code(one.squads), "name": "Bo"}
    ),
    "say who I am": lambda one: one.ask("student.enter:list", 5003, fields={"name": "Cy", "section": "7-A"}),
    "see open squads": lambda one: one.ask("squad.list", 5003),
    "look for a squad": lambda one: one.ask("squad.looking", 5003),
    "leave": lambda one: one.ask(f"squad.left:{shown_stamp(2, False, None)}", one.member(2, 1)),
    "rename": lambda one: one.ask(RENAMED, one.member(2), fields={"squad": "Right Feet"}),
    "my squad": lambda one: one.ask("squad.mine", one.member(3)),
    "turns to book": lambda one: one.ask("practice.book", one.member(3)),
    "book a turn": lambda one: one.ask("practice.booked", one.member(3), values=TURN),
    "give a turn back": lambda one: one.ask("practice.given", one.member(3), values=TURN),
    "read the brief": lambda one: one.ask("brief.open", one.member(4)),
    "hand in": lambda one: one.ask("hand-in.save", one.member(4), fields={"why": "The wheel, because it rolls."}),
    "ask about the rules": lambda one: one.ask("rules.asked", one.member(4), fields={"question": "May we use tape?"}),
    "office": lambda one: one.ask("office"),
    "all squads": lambda one: one.ask("people.squads:0"),
    "take a squad out": lambda one: one.ask("people.withdrawn:5", fields={"reason": "All of them are ill."}),
}
JUDGING: dict[str, Press] = {
    "the table": lambda one: one.ask("table.panel"),
    "squads at the table": lambda one: one.ask("table.measure", values=("run.socks",)),
    "save an attempt": lambda one: one.ask("table.save:run.socks:3:1:7:0"),
    "my sheets": lambda one: one.ask("sheets.list", 201),
    "hand in a sheet": lambda one: one.ask("sheets.save:1:0:0", 201, fields=MARKS),
    "office": lambda one: one.ask("office"),
    "who owes what": lambda one: one.ask("judging.status"),
    "gaps between judges": lambda one: one.ask("judging.gaps"),
    "preview": lambda one: one.ask("results.panel"),
}
REFUSED = ("out of date", "is closed and", "Only a ", "went wrong")
BOARD = ("roster/", "turns/")
"""Public boards have more parts the more squads they name; delivery looks at them together."""


async def costs(path: Path, squads: int, state: Any, presses: dict[str, Press]) -> dict[str, tuple[Cost, int]]:
    """What each press costs, one after the other, and how many live messages it makes out of date."""
    found = {}
    async with large_class(path, squads, state) as one:
        for name, press in presses.items():
            await one.all_shown()
            one.cost()
            answer = await press(one)
            cost = one.cost()
            assert not isinstance(answer, Open), name
            assert not any(text in answer.message.text for text in REFUSED), (name, answer.message.text)
            found[name] = (cost, len([key for key in await one.stale() if not key.startswith(BOARD)]))
    return found


@pytest.mark.parametrize(("state", "presses"), [("window", WINDOW), ("judging", JUDGING)])
async def test_a_press_costs_the_same_whatever_the_size_of_the_class(
    tmp_path: Path, state: Any, presses: dict[str, Press]
) -> None:
    small = await costs(tmp_path / "small.db", SMALL, state, presses)
    assert {name: cost.transactions for name, (cost, _) in small.items()} == {
        name: min(1, cost.transactions) for name, (cost, _) in small.items()
    }
    assert await costs(tmp_path / "large.db", LARGE, state, presses) == small
    assert max(cost.statements for cost, _ in small.values()) <= 60


SHORT = ("ORDER BY seq DESC LIMIT 1",)
"""What reads one row of a large table, in the order of its key."""
TABLES = "squad student live_message outbox_message scheduled_job audit_log processed_interaction sheet attempt judge"
SCAN = re.compile(rf"SCAN ({TABLES.replace(' ', '|')}|room_seat|practice_turn)( USING INDEX sqlite_autoindex.*)?")


async def test_no_press_and_no_look_at_what_is_to_be_delivered_reads_a_large_table_from_end_to_end(
    tmp_path: Path,
) -> None:
    found = set()
    states: tuple[tuple[State, dict[str, Press]], ...] = (("window", WINDOW), ("judging", JUDGING))
    for state, presses in states:
        path = tmp_path / f"{state}.db"
        async with large_class(path, SMALL, state) as one:
            for press in presses.values():
                await press(one)
            async with one.store.read() as db:
                await find_pending_work(db, one.now)
                await scheduled_jobs.jobs_due_by(db, one.now)
                await scheduled_jobs.next_job_at(db)
            asked = {sql for sql in one.run if sql.startswith(("SELECT", "UPDATE", "DELETE")) and SHORT[0] not in sql}
        with closing(sqlite3.connect(path)) as connection:
            for sql in asked:
                plan = [row[3] for row in connection.execute(f"EXPLAIN QUERY PLAN {sql}")]
                found |= {(step, sql) for step in plan if SCAN.fullmatch(step)}
    assert found == set()


LIVE = ("signup", "brief", "rules", "roster/1", "turns/1", "practice/3", "hand-in/3/bunting", "judge/1")


async def test_what_a_live_message_shows_is_read_with_as_many_statements_whatever_the_size_of_the_class(
    tmp_path: Path,
) -> None:
    found = []
    for squads in (SMALL, LARGE):
        async with large_class(tmp_path / f"{squads}.db", squads, "judging") as one:
            costs = {}
            for key in LIVE:
                await one.compose(key)
                costs[key] = one.cost()
            found.append(costs)
    assert found[0] == found[1]

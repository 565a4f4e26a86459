"""No list ends in silence: with a class of any size everybody can be picked, by turning pages."""

import re
from collections import defaultdict
from datetime import timedelta
from pathlib import Path
from typing import Any

from bot.actions.core.dispatch import ACTIONS, Action
from bot.actions.judging.judges_admin import enrol
from bot.rules.squads.names import name_keys
from bot.words.core.choices import choice
from bot.words.core.custom_ids import split
from bot.words.squads.find_student_or_squad import several
from storage.records.message import Answer, Message, Open, Select, SelectField
from storage.records.request import Request
from storage.tables import helpers, judges, score_sheets, squads, students
from storage.tables.sql_session import Transaction, stamp
from tests.actions.conftest import START
from tests.actions.core.test_hostile_pages import pages
from tests.actions.core.test_role_matrix import asked, put, scene
from tests.databases import new_store

SQUADS, JUDGES, STUDENTS, OFFICERS = 55, 32, 80, 26
FULL = 25
"""What a list of the platform holds: one that ends there has most likely been cut."""
TURNS = re.compile(r"Next page \d+ of \d+|Next page")
ENOUGH = {"table.measure Pick": "shown while a command is typed; more letters narrow it",
          "find.found Pick one": "says how many more fit, and to type more letters"}  # fmt: skip
"""Lists that hold 25 and no more, and why nothing is lost."""


async def large_class(db: Transaction) -> dict[str, Any]:
    """The scene of the role matrix with very many people in it."""
    found = await scene(db)
    for number in range(SQUADS):
        name = f"Squad {number}"
        squad = await squads.add_squad(db, 1, name, name_keys(name), "7-A", f"X{number}", START)
        student = await students.student(
            db, await students.enter_student(db, 1, 5000 + number, f"Member {number}", "7-A")
        )
        assert student is not None
        await students.seat(db, student, squad, START)
    for number in range(STUDENTS):
        await students.enter_student(db, 1, 9000 + number, f"Alone {number}", "7-A")
    for number in range(JUDGES):
        judge = await enrol(db, 1, 7000 + number, f"Judge {number}")
        await judges.opt_in(db, judge, f"Judge {number}", START)
    teams = [squad.id for squad in await squads.squads(db, 1)]
    first, *others = (one.id for one in await judges.judges(db, 1))
    # One of the judges marks all squads, and each other judge one.
    for marks, team in {*((first, team) for team in teams), *zip(others, teams[5:], strict=False)}:
        have = "SELECT count(*) FROM sheet WHERE judge_id = ? AND squad_id = ? AND event = 'bunting'"
        if not await db.value(have, marks, team):
            await score_sheets.add_sheets(db, [(marks, team, "bunting", "bunting", team)])
    for number in range(OFFICERS):
        await helpers.add_officer(db, 1, 8000 + number, f"Helper {number}", "typist")
        sql = "INSERT INTO incident (tryout_id, what, who, decision, happened_at) VALUES (1, ?, '', '', ?)"
        await db.run(sql, f"Incident {number}", stamp(START))
    return found


def lists(answer: Answer | Message) -> list[tuple[str, tuple[str, ...]]]:
    """Each list in an answer: what picks from it, and what can be picked."""
    if isinstance(answer, Open):
        fields = [field for field in answer.form.fields if isinstance(field, SelectField)]
        return [(f"{answer.form.key} {field.key}", tuple(one.value for one in field.choices)) for field in fields]
    message = answer if isinstance(answer, Message) else answer.message
    return [
        (f"{row.key.partition(':')[0]} {row.prompt}", tuple(one.value for one in row.choices))
        for row in message.rows
        if isinstance(row, Select)
    ]


def onward(answer: Answer | Message) -> list[str]:
    """The keys of the buttons that turn a page."""
    if isinstance(answer, Open):
        return []
    message = answer if isinstance(answer, Message) else answer.message
    return [part.key for row in message.rows if isinstance(row, tuple) for part in row if TURNS.match(part.label)]


async def reached(db: Transaction, action: Action, request: Request) -> dict[str, set[str]]:
    """All that can be picked from what an action shows, and from all its pages."""
    found = defaultdict[str, set[str]](set)
    todo, turned = [(action, request)], set[str]()
    while todo:
        for page in await pages(db, *todo.pop()):
            for name, values in lists(page):
                found[name] |= set(values)
            for onto in set(onward(page)) - turned:
                turned.add(onto)
                key, args = split(onto)
                assert key is not None
                todo.append((ACTIONS[key], request.model_copy(update={"args": args, "values": ()})))
    return found


async def test_every_list_reaches_everybody_by_its_pages(tmp_path: Path) -> None:
    cut, longest = set[str](), defaultdict[str, int](int)
    async with new_store(tmp_path / "a.db") as store, store.write() as db:
        found = await large_class(db)
        await put(db, "judging")
        found["at"] = START + timedelta(hours=1)
        for action in (one for one in ACTIONS.values() if not one.writes):
            who = "coach who judges" if action.role != "anyone" else "captain"
            for name, everybody in (await reached(db, action, asked(action, who, found, in_server=True))).items():
                list_of = name.partition(" ")[0]
                longest[list_of] = max(longest[list_of], len(everybody))
                cut |= {name} if len(everybody) == FULL else set()
    assert cut - ENOUGH.keys() == set()
    least = {"judges.one": JUDGES, "ties.judge": JUDGES, "people.student": STUDENTS, "people.squad": SQUADS,
             "people.dismiss": OFFICERS, "paper.print": JUDGES, "paper.enter-judge": JUDGES - 5, "paper.entry": SQUADS,
             "panels.set": JUDGES - 5, "records.incident-struck": OFFICERS,
             "coach-squad.filled": STUDENTS, "people.placed": SQUADS}  # fmt: skip
    assert {name: longest[name] for name, many in least.items() if longest[name] < many} == {}


def test_a_search_that_finds_too_many_says_how_many_more_there_are() -> None:
    found = several(tuple(choice(number, f"Ida {number}") for number in range(31)))
    assert "6 more fit, too: to see them, type more letters" in found.text
    assert "more fit" not in several(tuple(choice(number, "Ida") for number in range(25))).text

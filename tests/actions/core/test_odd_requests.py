"""Old, forged and broken requests are refused: every action there is, with what no button of ours carries."""

import zlib
from inspect import signature
from random import Random
from typing import Any

import pytest

from bot.actions.core.arguments import SHARED
from bot.actions.core.dispatch import ACTIONS
from bot.actions.judging.judges_admin import enrol
from bot.actions.judging.open_judging import open_judging
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.words.core.action_keys import AnyKey
from bot.words.core.refusals import AFRESH, lines
from storage.records.message import Button, Open, Say, Select
from storage.records.request import Person, Room, Upload
from storage.records.tryout import STATES, State
from storage.tables import judges, surprises, tryouts
from storage.tables.sql_session import Transaction
from tests.actions.conftest import COACH, START, Asking, Begin
from tests.actions.table_help import add_judges, add_squads, hand_in

STUDENT, JUDGE, STRANGER = 1, 801, 900
HUGE = "9" * 30
ARABIC = "\N{ARABIC-INDIC DIGIT ONE}"
ODD = (
    "",
    " ",
    "x",
    "-1",
    "0",
    "1",
    "2",
    "999999",
    str(2**63 - 1),
    str(2**63),
    HUGE,
    ARABIC,
    "1e9999999",
    "NaN",
    "a" * 101,
)
ARGS: tuple[tuple[str, ...], ...] = (
    (),
    *((one,) for one in ODD),
    ("1", "1"),
    ("0", "1"),
    ("1", HUGE),
    ("run", "socks"),
    ("bunting", "bunting"),
    ("bunting", "bunting", "1"),
    ("bunting", "bunting", "999999"),
    ("nothing", "here"),
    ("run.socks", "1"),
    ("run.socks", "1", "1"),
    ("run.socks", "1", "1", "3", "0"),
    ("run.socks", "1", "1", "3,4,5", "1e9999999"),
    ("run.socks", "1", "1", ARABIC, "NaN"),
    ("run.socks", "1", "r99"),
    ("run.socks", "999999", "1"),
    ("chain.time", "1", "1", HUGE, "0"),
    ("chain.time", "1", "1", "0", "0", "less"),
    ("chain.time", "1", "1", str(2**62), "1"),
    ("bunting.members", "1", "1", "x"),
    ("nothing.here", "1", "1"),
    ("1", "0", "0", "5"),
    ("1", "99", "99"),
    ("1",) * 12,
)
VALUES: tuple[tuple[str, ...], ...] = (
    (),
    *((one,) for one in ODD),
    ("1", "2", "3"),
    ("1", "x"),
    ("bunting/bunting",),
    ("nothing/here",),
    ("coach/x",),
    ("run.socks",),
    ("chain",),
)
WORDS = (
    "",
    " ",
    "x",
    "-1",
    "0",
    "1",
    HUGE,
    ARABIC,
    "1e9999999",
    "a" * 4000,
    "a: 1\nb",
    "bunting: 1e99",
    ":::",
    "@everyone",
    "no",
)
FIELDS = [
    *("date", "time", "zone", "sections", "squad", "name", "section", "code", "reason", "why", "keep", "late", "days"),
    *("what", "text", "weights", "scale", "panel", "judge", "question", "answer", "change", "state", "deductions"),
    *(
        "measure",
        "value",
        "typed",
        "sample",
        "event",
        "key",
        "remind",
        "closes",
        "judged",
        "sizes",
        "places",
        "announce",
    ),
    *("brief", "large", "finished", "faults", "contributing", "amount", "ticked", "item-sock", "level-reasons"),
    *("level-theme", "level-talk", "comment-reasons", "comment"),
]
CASES: tuple[tuple[int, State], ...] = (
    *((COACH, state) for state in STATES if state != "archived"),
    (JUDGE, "judging"),
    (JUDGE, "settled"),
    (STUDENT, "signup"),
    (STUDENT, "announced"),
    (STRANGER, "window"),
)
ROUNDS = 5
"""Odd requests of each action, state and person; other ones for each, and the same in every run."""


async def scene(begin: Begin) -> Asking:
    """A try-out with squads, judges and sheets, some of them handed in."""
    asking = await begin()
    await asking.ask("squad.found", STUDENT, fields={"squad": "Lonely Kettles", "name": "Ada", "section": "7-A"})
    tryout = await asking.tryout()
    squads = await add_squads(asking, 2)
    async with asking.store.write() as db:
        await enrol(db, tryout.id, JUDGE, "Dov")
        await surprises.start(db, tryout.id, "chain", asking.now)
        me = await judges.judge_of(db, tryout.id, JUDGE)
    assert me is not None
    for judge in (me.id, *await add_judges(asking, 1)):
        await hand_in(asking, judge, squads[0], "bunting", "bunting", {"reasons": 3, "theme": 2})
        await hand_in(asking, judge, squads[1], "bunting", "bunting", {})
    return asking


async def put_back(db: Transaction, tryout_id: int, state: State) -> None:
    """The try-out is in this state again, whatever the requests before have done to it."""
    await db.run("UPDATE tryout SET state = 'archived' WHERE id <> ?", tryout_id)
    brief = None if state in ("drafting", "signup") else START.isoformat()
    announced = START.isoformat() if state == "announced" else None
    await db.run(
        "UPDATE tryout SET state = ?, brief_at = ?, announced_at = ? WHERE id = ?", state, brief, announced, tryout_id
    )


def odd(action: AnyKey, state: State, who: int) -> list[tuple[str, dict[str, Any]]]:
    """Keys and contents of requests that no message of ours makes; nothing at all comes first."""
    dice = Random(zlib.crc32(f"{action}/{state}/{who}".encode()))
    found: list[tuple[str, dict[str, Any]]] = [(action, {})]
    for _ in range(ROUNDS):
        more: dict[str, Any] = {"values": dice.choice(VALUES)}
        if dice.random() < 0.7:
            names = [name for name in FIELDS if dice.random() < 0.8]
            more["fields"] = dict(zip(names, dice.choices(WORDS, k=len(names)), strict=True))
        if dice.random() < 0.2:
            more["people"] = (Person(id=dice.choice((STUDENT, JUDGE, 2**63 - 1)), name="Somebody"),)
        if dice.random() < 0.2:
            more["rooms"] = (Room(id=1),)
        if dice.random() < 0.2:
            more["uploads"] = {
                name: Upload(name="a", data=dice.choice((b"", b"\xff\xd8\xff", b"[")), size=1)
                for name in ("plan", "photo", "picture")
            }
        args = shaped(action, dice) if dice.random() < 0.5 else dice.choice(ARGS)
        found.append((":".join((action, *args)), more))
    return found


def shaped(action: AnyKey, dice: Random) -> list[str]:
    """Arguments as the handler takes them, all but one of which lead to something that is there."""
    parameters = list(signature(ACTIONS[action].run).parameters.values())[SHARED:]
    names = [one.name for one in parameters if one.kind is one.POSITIONAL_OR_KEYWORD]
    args = [{"about": "run.socks", "event_key": "bunting", "measure_key": "bunting"}.get(name, "1") for name in names]
    if args:
        args[dice.randrange(len(args))] = dice.choice(ODD)
    return args


@pytest.mark.parametrize(("who", "state"), CASES)
async def test_no_odd_request_is_a_fault_of_ours(begin: Begin, who: int, state: State) -> None:
    asking = await scene(begin)
    tryout = await asking.tryout()
    faults = []
    for action in sorted(ACTIONS):
        async with asking.store.write() as db:
            await put_back(db, tryout.id, state)
        for key, more in odd(action, state, who):
            try:
                answer = await asking.ask(key, who, **more)
                assert isinstance(answer, Open) or answer.message.text
            except Exception as fault:  # noqa: BLE001 - every kind is one to be named
                faults.append((key, more, repr(fault)))
    assert not faults, "\n".join(map(str, faults))


def test_whoever_holds_an_old_message_is_led_to_where_their_role_begins() -> None:
    assert {action.role for action in ACTIONS.values()} <= AFRESH.keys()


async def test_an_old_button_of_a_coach_leads_to_the_office(begin: Begin) -> None:
    answer = await (await begin()).ask("people.place:1")
    assert isinstance(answer, Say)
    assert answer.message.text == lines()[Reason.OUT_OF_DATE]
    (row,) = answer.message.rows
    assert isinstance(row, tuple)
    (button,) = row
    assert isinstance(button, Button)
    assert button.key == "office"


async def test_an_old_button_to_a_page_that_is_no_more_shows_the_last_one(begin: Begin) -> None:
    asking = await scene(begin)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await tryouts.set_state(db, tryout.id, "judging")
        await open_judging(db, await tryouts.get(db, tryout.id), asking.now, {})
        me = await judges.judge_of(db, tryout.id, JUDGE)
    assert me is not None
    message = await asking.message(f"paper.enter-page:7:{me.id}")
    (pick, _) = message.rows
    assert isinstance(pick, Select)
    assert pick.choices


async def test_an_old_form_of_counts_that_the_plan_has_no_more_is_refused(begin: Begin) -> None:
    asking = await scene(begin)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await tryouts.set_state(db, tryout.id, "judging")
    assert (await asking.message("table.form:run.socks:1:1:3,4,5:0")).text == lines()[TableReason.PLAN_MOVED]

"""The life of a squad: whatever happens to it is one press and a reason, and every place that shows squads follows."""

import io
from collections.abc import Awaitable, Callable, Mapping, Sequence
from dataclasses import dataclass, field

import openpyxl
import pytest
from pypdf import PdfReader

from bot.actions.core.live_messages import compose
from bot.words.core.custom_ids import shown_stamp
from storage.records.message import Select, SelectField
from storage.tables import day_timetable, member_parts, score_sheets
from tests.actions.conftest import Asking, Begin, button
from tests.actions.event_day.day_cast import KEY, one_lesson
from tests.actions.hand_in_cast import BRIEF, DEADLINE, handing_in
from tests.actions.office_cast import make_squad, until
from tests.actions.practice_cast import PRACTICE
from tests.actions.squads.test_students_admin import decisions, entered, student_id
from tests.actions.table_help import add_judges, at_squad

SPOONS, TEAPOTS, TURNIPS = "Crooked Spoons", "Muddy Teapots", "Sleepy Turnips"
NUMBERS = {SPOONS: 1, TEAPOTS: 2, TURNIPS: 3}
WHO = {**dict.fromkeys(range(1, 5), SPOONS), **dict.fromkeys(range(11, 14), TEAPOTS), 21: TURNIPS, 22: TURNIPS}
REASON = {"reason": "It is better so"}
Doing = Callable[[Asking], Awaitable[object]]


@dataclass(frozen=True)
class Then:
    """How it must be afterwards: members by squad, the captain first; and what lies with squads."""

    squads: Mapping[str, Sequence[int]]
    parts: Mapping[str, int]
    turns: Mapping[str, int]
    small: Sequence[str] = (TURNIPS,)
    decided: Sequence[str] = ()
    """The kinds of exceptions that are shown with the result."""
    more: Mapping[str, Sequence[str]] = field(default_factory=dict)
    """Names of members without an account."""

    def names(self, squad: str) -> list[str]:
        """Everybody in a squad."""
        return [f"Student {who}" for who in self.squads[squad]] + list(self.more.get(squad, ()))


async def scene(begin: Begin) -> Asking:
    """Judging has begun, and there is something of everything: parts, turns, sheets, times, and one student alone."""
    asking = await begin("drafting", practice=PRACTICE, event_day=one_lesson(), **handing_in())
    await asking.confirm("signup.open")
    for first, size, name in ((1, 4, SPOONS), (11, 3, TEAPOTS), (21, 2, TURNIPS)):
        await make_squad(asking, first, size, name)
    await entered(asking, "Ann")
    await add_judges(asking, 2)
    await until(asking, BRIEF)
    for who in WHO:
        await asking.ask("hand-in.save", who, fields={"why": "The wheel, because it holds."})
    for who in (1, 11, 21):
        offered = await asking.message("practice.book", who)
        turn = next(row for row in offered.rows if isinstance(row, Select)).choices[-1].value
        await asking.ask("practice.booked", who, values=(turn,))
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    await asking.ask("day.make")
    await asking.ask("day.tell")
    await until(asking, DEADLINE)
    assert (await asking.tryout()).state == "judging"
    return asking


async def check(asking: Asking, then: Then) -> None:
    """Everything that shows squads shows these."""
    await check_rooms_and_lists(asking, then)
    await check_work(asking, then)
    await check_papers(asking, then)
    assert [kind for kind, *_ in await decisions(asking)] == list(then.decided)


async def check_rooms_and_lists(asking: Asking, then: Then) -> None:
    """Counts, board, captains, rooms, sizes."""
    seated = sum(len(then.names(squad)) for squad in then.squads)
    assert f"{len(then.squads)} squads with {seated} students" in (await asking.message("people.panel")).text
    listed = next(row for row in (await asking.message("people.squads:0")).rows if isinstance(row, Select))
    assert {one.label for one in listed.choices if "too small" in one.note} == set(then.small)
    async with asking.store.read() as db:
        board = await compose(db, await asking.tryout(), "roster/1")
        wanted = await db.rows("SELECT name, platform_id FROM room_seat JOIN squad ON id = squad_id WHERE wanted = 1")
    assert board is not None
    for squad, members in then.squads.items():
        mine = (await asking.message("squad.mine", members[0])).text
        assert f"Student {members[0]} (captain)" in mine and all(name in mine for name in then.names(squad))
        assert all(name in board.text for name in then.names(squad))
        assert {row["platform_id"] for row in wanted if row["name"] == squad} - {100} == set(members)
    assert {row["name"] for row in wanted} == set(then.squads)
    assert all((name in board.text) == (name in then.squads) for name in NUMBERS)


async def check_work(asking: Asking, then: Then) -> None:
    """Parts, turns, sheets, times, and who is asked for at the table."""
    async with asking.store.read() as db:
        ids = {row["name"]: row["id"] for row in await db.rows("SELECT id, name FROM squad WHERE withdrawn = 0")}
        parts = {
            name: len(
                await member_parts.parts(db, squad, "bunting") | await member_parts.left_behind(db, squad, "bunting")
            )
            for name, squad in ids.items()
        }
        held = await db.rows("SELECT squad_id, count(*) FROM practice_turn WHERE state = 'held' GROUP BY squad_id")
        sheets = {(sheet.squad_id, sheet.judge_id) for sheet in await score_sheets.sheets(db, 1)}
        slots = {slot.squad_id for slot in await day_timetable.slots(db, 1)}
    assert parts == then.parts
    assert {name: dict(map(tuple, held)).get(squad, 0) for name, squad in ids.items()} == then.turns
    assert sheets == {(squad, judge) for squad in ids.values() for judge in (1, 2)}
    assert slots == set(ids.values())
    for squad in then.squads:
        card = await at_squad(asking, "run.socks", f"{NUMBERS[squad]} {squad}")
        roster = (await asking.form(button(card, "Who is here").key)).fields[0]
        assert isinstance(roster, SelectField)
        assert sorted(one.label for one in roster.choices) == sorted(then.names(squad))
        share = await at_squad(asking, "bunting.members", f"{NUMBERS[squad]} {squad}")
        enter = next(
            one for row in share.rows if isinstance(row, tuple) for one in row if one.label.startswith("Enter")
        )
        assert f"Of the squad's {len(then.names(squad))}" in str((await asking.form(enter.key)).fields)


async def check_papers(asking: Asking, then: Then) -> None:
    """Workbook and certificates."""
    found = (await asking.message("records.spreadsheet")).files[0].data
    rows = [[cell.value for cell in row] for row in openpyxl.load_workbook(io.BytesIO(found))["Roster"].iter_rows()]
    assert {(row[1], row[2]) for row in rows[1:] if row[1]} == {
        (squad, name) for squad in then.squads for name in then.names(squad)
    }
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET announced_at = '2027-02-01T20:00:00.000000+00:00', state = 'announced'")
    data = (await asking.message("records.certificates")).files[0].data
    pages = [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(data)).pages]
    assert len(pages) == sum(len(then.names(squad)) for squad in then.squads)
    for squad in then.squads:
        for name in then.names(squad):
            assert any(name in page and f"took part with the squad {squad}" in page for page in pages)


def asks(*steps: str, **fields: str) -> Doing:
    """One press and a reason; `{21}` stands for the number of student 21, `{T}` for that of a squad's first letter."""

    async def do(asking: Asking) -> None:
        for step in steps:
            key, _, picked = step.partition("=")
            names = {str(who): str(await student_id(asking, f"Student {who}")) for who in WHO}
            names |= {"Ann": str(await student_id(asking, "Ann"))}
            for name, number in names.items():
                key, picked = key.replace(f"{{{name}}}", number), picked.replace(f"{{{name}}}", number)
            values = (picked,) if picked else ()
            await asking.ask(key, values=values, fields={**REASON, **fields})

    return do


WHOLE = {SPOONS: (1, 2, 3, 4), TEAPOTS: (11, 12, 13), TURNIPS: (21, 22)}
PARTS, TURNS = {SPOONS: 4, TEAPOTS: 3, TURNIPS: 2}, dict.fromkeys(NUMBERS, 1)
LIFE: dict[str, tuple[Doing, Then]] = {
    "nothing": (asks(), Then(WHOLE, PARTS, TURNS)),
    "dropout, the part stays": (
        asks("leaver.gone:{2}", parts="stay"),
        Then(WHOLE | {SPOONS: (1, 3, 4)}, PARTS, TURNS, decided=("part",)),
    ),
    "dropout, the part goes": (
        asks("leaver.gone:{2}", parts="go"),
        Then(WHOLE | {SPOONS: (1, 3, 4)}, PARTS | {SPOONS: 3}, TURNS, decided=("part",)),
    ),
    "the captain leaves": (
        asks("leaver.gone:{1}", parts="go"),
        Then(WHOLE | {SPOONS: (2, 3, 4)}, PARTS | {SPOONS: 3}, TURNS, decided=("part",)),
    ),
    "another captain": (asks("people.lead:{3}"), Then(WHOLE | {SPOONS: (3, 1, 2, 4)}, PARTS, TURNS)),
    "replacement": (
        asks("leaver.gone:{12}", "people.placed:{Ann}=2", parts="go"),
        Then(
            WHOLE | {TEAPOTS: (11, 13)}, PARTS | {TEAPOTS: 2}, TURNS, decided=("part",), more={TEAPOTS: ("Ann",)}
        ),
    ),
    "a move": (
        asks("people.placed:{4}=2"),
        Then({SPOONS: (1, 2, 3), TEAPOTS: (11, 12, 13, 4), TURNIPS: (21, 22)},
             {SPOONS: 3, TEAPOTS: 3, TURNIPS: 2}, TURNS),
    ),
    "small, and filled": (
        asks("people.placed:{Ann}=3"),
        Then(WHOLE, PARTS, TURNS, small=(), more={TURNIPS: ("Ann",)}),
    ),
    "small, and may be": (asks("people.smalled:3"), Then(WHOLE, PARTS, TURNS, small=(), decided=("small",))),
    "small, and waited for": (
        asks("grace.given:3", until="2027-01-25"),
        Then(WHOLE, PARTS, TURNS, decided=("grace",)),
    ),
    "small, and merged": (
        asks(f"merge.done:3:2:{shown_stamp([])}"),
        Then({SPOONS: (1, 2, 3, 4), TEAPOTS: (11, 12, 13, 21, 22)}, {SPOONS: 4, TEAPOTS: 5},
             {SPOONS: 1, TEAPOTS: 2}, small=(), decided=("merged",)),
    ),
    "small, and taken out": (
        asks("people.withdrawn:3"),
        Then({SPOONS: (1, 2, 3, 4), TEAPOTS: (11, 12, 13)}, {SPOONS: 4, TEAPOTS: 3},
             {SPOONS: 1, TEAPOTS: 1}, small=(), decided=("withdrawn",)),
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", LIFE)
async def test_everything_follows(begin: Begin, what: str) -> None:
    happens, then = LIFE[what]
    asking = await scene(begin)
    await happens(asking)
    await check(asking, then)

"""A student with a phone who tries everything: odd names, very long forms, what belongs to others, from anywhere."""

from datetime import timedelta
from typing import Any

import pytest

from storage.records.message import Open
from storage.records.request import Upload
from storage.tables import helpers, squads, students, tryouts
from tests.actions.conftest import COACH, SERVER, Asking, Begin, small_plan
from tests.actions.hand_in_cast import BRIEF, handing_in

ME, FRIEND, STRANGER = 1, 2, 900
TYPED = ("hand-in.save", "rules.asked", "student.came-late", "protest.filed", "link.linked", "squad.join-by-code",
         "people.entered", "people.renamed:1", "correct.details:1", "rules.drafted", "records.incident-noted",
         "find.found",
         "merge.done:1:2")  # fmt: skip
NAMES = (
    "\u0301" * 20,
    "\u20dd\u20de\u0489",
    "a" + "\u0335" * 60,
    "\u202eevil\u202c",
    "\u200b\u200b\u200b",
    "\u3164\u3164\u3164",
    "\ufdfd" * 40,
    "\U0001f469\u200d\U0001f469\u200d\U0001f467",
    "\ud83d",
    "\U000e0041\U000e0042",
    "\x00\x01\x02",
    "x" * 4000,
    "- - -",
    "```",
    "@everyone",
    "<@1>",
)
"""Combining marks alone, a heap of them, direction, nothing visible, wide, emoji, half a character, tags, control."""


async def in_window(begin: Begin) -> Asking:
    """One student in a squad, while parts are handed in."""
    asking = await begin("window", **handing_in())
    asking.now = BRIEF + timedelta(hours=1)
    async with asking.store.write() as db:
        await tryouts.freeze(db, 1, "0" * 64, BRIEF)
        me = await students.student(db, await students.enter_student(db, 1, ME, "Ada", "7-A"))
        assert me is not None
        squad = await squads.add_squad(db, 1, "Crooked Spoons", ("c", "c", "c"), "7-A", "CODE", asking.now)
        await students.seat(db, me, squad, asking.now)
    return asking


async def kind(asking: Asking, key: str, who: int, **more: Any) -> str:
    """What comes back: an answer in words, never a fault; a form counts as one."""
    answer = await asking.ask(key, who, **more)
    return "a form" if isinstance(answer, Open) else answer.message.text


@pytest.mark.parametrize("name", NAMES)
async def test_an_odd_name_is_refused_kindly_or_reads_as_a_name_everywhere(begin: Begin, name: str) -> None:
    asking = await begin()
    await asking.ask("squad.found", FRIEND, fields={"squad": "Crooked Spoons", "name": "Ada", "section": "7-A"})
    for key in ("squad.found", "student.enter:list", "squad.renamed", "class-list.asked"):
        fields = {"squad": name, "name": name, "section": "7-A"}
        assert await kind(asking, key, ME, fields=fields, name=name)
        assert await kind(asking, key, FRIEND, fields=fields, name=name)
    for key in ("people.entered", "people.renamed:1", "correct.details:1"):
        assert await kind(asking, key, COACH, fields={"squad": name, "name": name, "section": "7-A"})
    async with asking.store.read() as db:
        kept = [one.name for one in await squads.squads(db, 1)] + [one.name for one in await students.students(db, 1)]
    for one in kept:
        assert 1 < len(one) <= 80 and one.isprintable() and any(letter.isalnum() for letter in one), repr(one)


@pytest.mark.parametrize("length", [0, 1, 4000])
async def test_a_form_of_any_length_gets_an_answer_and_loses_nothing_there_was(begin: Begin, length: int) -> None:
    asking = await in_window(begin)
    before = await kind(asking, "squad.mine", ME)
    text = "\u00e9" * length
    fields = dict.fromkeys(("why", "question", "name", "text", "code", "squad", "reason", "answer", "what"), text)
    for key in TYPED:
        assert await kind(asking, key, ME, fields={"section": "7-A", **fields}), key
        assert await kind(asking, key, COACH, fields={"section": "7-A", **fields}), key
    assert (await kind(asking, "squad.mine", ME)).split("\n")[0] == before.split("\n")[0]


@pytest.mark.parametrize("data", [b"", b"not a picture", b"%PDF-1.7", b"GIF89a", b"PK\x03\x04", b"\x89PNG\r\n\x1a\n"])
async def test_a_file_that_is_not_what_its_name_says_is_refused_and_the_words_are_not_lost(
    begin: Begin, data: bytes
) -> None:
    asking = await in_window(begin)
    upload = {"photo": Upload(name="flag.png", data=data, size=len(data))}
    said = await kind(asking, "hand-in.save", ME, fields={"why": "The wheel carries a sock."}, uploads=upload)
    assert "The wheel carries a sock." in said or "picture" in said or "photo" in said
    again = await kind(asking, "hand-in.save", ME, fields={"why": "The wheel carries a sock."})
    assert "code" not in again
    for key in ("plan.use", "class-list.use"):
        found = await kind(asking, key, COACH, uploads={"plan": Upload(name="a.toml", data=data, size=len(data))})
        assert found


@pytest.mark.parametrize("server", [None, SERVER + 1])
async def test_nothing_of_this_class_is_reached_from_a_private_message_or_another_class_server(
    begin: Begin, server: int | None
) -> None:
    asking = await in_window(begin)
    async with asking.store.write() as db:
        there = await tryouts.create(db, SERVER + 1, small_plan(), asking.now)
        await tryouts.set_state(db, there, "window")
        await helpers.add_officer(db, there, STRANGER, "Stranger", "coach")
        before = [tuple(row) for row in await db.rows("SELECT * FROM student UNION ALL SELECT * FROM student")]
    for key in ("people.student", "people.squad", "people.placed:1", "squad.join", "hand-in.squad:0:1", "squad.left",
                "people.taken:1", "correct.details:1", "link.code:1", "people.account-forgotten:1"):  # fmt: skip
        said = await kind(asking, key, STRANGER, server_id=server, values=("1",), manages_server=False,
                          fields={"name": "Eve", "section": "7-A", "reason": "because"})  # fmt: skip
        assert "Ada" not in said and "Crooked Spoons" not in said, key
    async with asking.store.read() as db:
        assert [tuple(row) for row in await db.rows("SELECT * FROM student UNION ALL SELECT * FROM student")] == before


async def test_half_a_letter_that_no_text_can_hold_is_no_fault_of_ours(begin: Begin) -> None:
    """JSON can carry half of a pair of surrogates; a database cannot keep it."""
    asking = await begin()
    half = "BC\ud800DH"
    for key, fields in (
        ("squad.join-by-code", {"code": half, "name": "Ida"}),
        ("link.linked", {"code": half}),
        ("squad.found", {"squad": half, "name": "Ida", "section": "7-A"}),
        ("find.found", {"find": half}),
        ("table.score", {"squad": half, "measure": half, "value": half}),
    ):
        answer = await asking.message(key, COACH if key in ("find.found", "table.score") else 5, fields=fields)
        assert "\ud800" not in answer.text, key


async def test_nor_is_it_where_a_try_out_begins(nobody: Asking) -> None:
    half = {"date": "2027-01-11", "time": "15:30", "zone": "Europe/\ud800", "sections": "7-\ud800, 7-B"}
    said = await nobody.message("plan.begun", fields=half, manages_server=True)
    assert "\ud800" not in said.text

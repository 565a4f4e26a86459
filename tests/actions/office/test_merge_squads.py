"""Two squads become one: members, parts, turns, rooms and reminders follow; what was scored stays on record."""

from datetime import UTC, datetime, timedelta
from typing import Any

from storage.records.message import Select
from tests.actions.conftest import Asking, Begin, button
from tests.actions.hand_in_cast import handing_in
from tests.actions.office_cast import make_squad, planned, until
from tests.actions.practice_cast import PRACTICE
from tests.actions.squads.test_students_admin import decisions, student_id

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
PART = {"why": "We sorted the socks by colour because that is quicker."}


async def two(begin: Begin) -> tuple[Asking, int, int]:
    asking = await begin("drafting", practice=PRACTICE, **handing_in())
    await asking.ask("signup.open")
    squads = await make_squad(asking, 1, 2, "Crooked Spoons"), await make_squad(asking, 11, 3, "Muddy Teapots")
    await until(asking, BRIEF)
    return asking, *squads


async def rows(asking: Asking, sql: str) -> list[tuple[Any, ...]]:
    async with asking.store.read() as db:
        return [tuple(row) for row in await db.rows(sql)]


async def test_everything_follows_into_the_squad_that_stays(begin: Begin) -> None:
    asking, spoons, teapots = await two(begin)
    await asking.ask("hand-in.save", 1, fields=PART)
    offered = await asking.message("practice.book", 1)
    turn = next(row for row in offered.rows if isinstance(row, Select)).choices[3].value
    await asking.ask("practice.booked", 1, values=(turn,))
    card = await asking.message("people.squad", values=(str(spoons),))
    listed = await asking.message(button(card, "Merge").key)
    sure = await asking.message(next(row for row in listed.rows if isinstance(row, Select)).key, values=(str(teapots),))
    assert "1 turn at the practice table" in sure.text and "count no more" not in sure.text
    form = await asking.form(button(sure, "Make them one").key)
    card = await asking.message(form.key, fields={"reason": "Both were too small"})
    assert "**Muddy Teapots**" in card.text and "Student 11 (captain)" in card.text and "Student 2" in card.text
    assert await rows(asking, "SELECT DISTINCT squad_id FROM hand_in") == [(teapots,)]
    assert await rows(asking, "SELECT squad_id, state FROM practice_turn") == [(teapots, "held")]
    assert await rows(asking, f"SELECT withdrawn FROM squad WHERE id = {spoons}") == [(1,)]
    wanted = "SELECT squad_id, wanted FROM room_seat WHERE platform_id = 1 ORDER BY squad_id"
    assert await rows(asking, wanted) == [(spoons, 0), (teapots, 1)]
    assert "Welcome: Student 1 and Student 2" in (await asking.messages_to(f"squad/{teapots}"))[-1]
    assert await decisions(asking) == [("merged", teapots, None, "Both were too small")]
    waiting = [job.key for job in await planned(asking, "practice") if job.state == "waiting"]
    assert waiting and all(key.startswith(f"{teapots}.") for key in waiting)
    mine = (await asking.message("squad.mine", 1)).text
    assert "**Muddy Teapots**" in mine and "none booked" not in mine
    assert "no longer there" in (await asking.message(form.key, fields={"reason": "Again"})).text


async def test_what_was_scored_stays_on_record_and_it_is_said(begin: Begin) -> None:
    asking, spoons, teapots = await two(begin)
    async with asking.store.write() as db:
        await db.run(
            "INSERT INTO attempt (squad_id, event, measure, number, recorded_by, recorded_at) "
            "VALUES (?, 'run', 'socks', 1, 0, '2027-01-12')",
            spoons,
        )
    sure = await asking.message(f"merge.ask:{spoons}", values=(str(teapots),))
    assert "1 attempt and 0 score sheets of **Crooked Spoons** stay on record and count no more" in sure.text
    assert "same squad" in (await asking.message(f"merge.ask:{spoons}", values=(str(spoons),))).text


async def test_a_leavers_part_stays_where_the_coach_says_so(begin: Begin) -> None:
    asking, _, teapots = await two(begin)
    await asking.ask("hand-in.save", 12, fields=PART)
    one = await student_id(asking, "Student 12")
    card = await asking.message("people.student", values=(str(one),))
    form = await asking.form(button(card, "Leaves for good").key)
    assert [field.key for field in form.fields] == ["reason", "parts"]
    await asking.ask(form.key, fields={"reason": "Moved to another town", "parts": "stay"})
    read = await asking.message("hand-in.parts", 11)
    assert "somebody who has left" in read.text and "sorted the socks" in read.text
    assert await decisions(asking) == [("part", teapots, one, "Moved to another town")]
    card = await asking.message("people.student", values=(str(one),))
    await asking.ask(button(card, "Undo: the move").key)
    read = await asking.message("hand-in.parts", 11)
    assert "Student 12" in read.text and "somebody who has left" not in read.text


async def test_otherwise_it_goes_along(begin: Begin) -> None:
    asking, _, _ = await two(begin)
    await asking.ask("hand-in.save", 12, fields=PART)
    asking.now += timedelta(minutes=1)
    one = await student_id(asking, "Student 12")
    await asking.ask(f"leaver.gone:{one}", fields={"reason": "Does not want to", "parts": "go"})
    assert "sorted the socks" not in (await asking.message("hand-in.parts", 11)).text

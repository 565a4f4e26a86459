"""Two squads become one: members, parts, turns, rooms and reminders follow; what was scored stays on record."""

import pytest

from bot.words.squads import merge_squads as words
from storage.records.message import Select
from storage.tables import conflicts_of_interest, panels, score_sheets, squads
from tests.actions.conftest import Asking, Begin, button
from tests.actions.hand_in_cast import handing_in
from tests.actions.judging_cast import cast as judging_cast
from tests.actions.office_cast import BRIEF, make_squad, planned, until
from tests.actions.practice_cast import PRACTICE
from tests.actions.scored import whole
from tests.actions.squads.test_students_admin import decisions
from tests.actions.squads.test_undo_correction import rows

PART = {"why": "We sorted the socks by colour because that is quicker."}


async def two(begin: Begin) -> tuple[Asking, int, int]:
    asking = await begin("drafting", practice=PRACTICE, **handing_in())
    await asking.confirm("signup.open")
    squads = await make_squad(asking, 1, 2, "Crooked Spoons"), await make_squad(asking, 11, 3, "Muddy Teapots")
    await until(asking, BRIEF)
    return asking, *squads


async def merge(asking: Asking, goes: int, stays: int, reason: str) -> None:
    """Make two squads one, as a coach does who reads what follows."""
    sure = await asking.message(f"merge.ask:{goes}", values=(str(stays),))
    form = await asking.form(button(sure, "Make them one").key)
    await asking.ask(form.key, fields={"reason": reason})


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


async def test_nobody_is_welcomed_where_nobody_comes(begin: Begin) -> None:
    asking, spoons, _ = await two(begin)
    async with asking.store.read() as db:
        goes = await squads.squad(db, spoons)
    assert goes is not None
    assert words.told(goes, (), 0).text.endswith("**Crooked Spoons** is part of your squad now.")


@pytest.mark.parametrize("own", [None, "2027-01-22 16:00", "2027-01-25 16:00"])
async def test_the_longer_time_for_the_hand_in_stays(begin: Begin, own: str | None) -> None:
    asking, spoons, teapots = await two(begin)
    for squad, until_ in ((spoons, "2027-01-23 16:00"), (teapots, own)):
        if until_ is not None:
            await asking.ask(f"time.given:{squad}", fields={"until": until_, "reason": "A printer was broken"})
    await merge(asking, spoons, teapots, "Both were too small")
    longer = "2027-01-25T21:00" if own and "25" in own else "2027-01-23T21:00"
    assert [row[0][:16] for row in await rows(asking, f"SELECT until FROM extension WHERE squad_id = {teapots}")] == [
        longer
    ]


async def test_what_only_one_of_them_has_done_counts_for_the_squad_that_stays(begin: Begin) -> None:
    asking, squad_ids = await whole(begin, 3, "judging")
    _, teapots, turnips = squad_ids
    async with asking.store.write() as db:
        await db.run("DELETE FROM attempt WHERE squad_id = ? AND event = 'run'", turnips)
        await db.run("DELETE FROM sheet WHERE squad_id = ? AND event = 'bunting'", turnips)
        await db.run("DELETE FROM attempt WHERE squad_id = ? AND event = 'bunting'", turnips)
        await db.run("DELETE FROM attempt WHERE squad_id = ? AND event = 'chain'", teapots)
        await db.run("DELETE FROM sheet WHERE squad_id = ? AND event = 'chain'", teapots)
    sure = await asking.message(f"merge.ask:{teapots}", values=(str(turnips),))
    assert "**Sock run**: 1 attempt of **Muddy Teapots** count for **Sleepy Turnips**, which has none" in sure.text
    assert "**Bunting**: 1 attempt and 2 score sheets of **Muddy Teapots** count" in sure.text
    assert "Paper chain" not in sure.text
    form = await asking.form(button(sure, "Make them one").key)
    assert [field.key for field in form.fields] == ["reason"]
    await asking.ask(form.key, fields={"reason": "Both were too small"})
    kept = f"WHERE squad_id = {turnips} GROUP BY event ORDER BY event"
    counted = [("bunting", 1), ("chain", 1), ("run", 1)]
    assert await rows(asking, f"SELECT event, count(*) FROM attempt {kept}") == counted
    assert await rows(asking, f"SELECT event, count(*) FROM sheet {kept}") == [("bunting", 2), ("chain", 2)]
    async with asking.store.read() as db:
        assert await db.rows("PRAGMA foreign_key_check") == []
    assert "all 2 squads can be ranked" in (await asking.message("results.panel")).text


@pytest.mark.parametrize(("picked", "socks"), [("goes", 13), ("stays", 12)])
async def test_where_both_have_done_it_the_coach_says_which_counts(begin: Begin, picked: str, socks: int) -> None:
    asking, (_, teapots, turnips) = await whole(begin, 3, "judging")
    sure = await asking.message(f"merge.ask:{teapots}", values=(str(turnips),))
    assert "**Sleepy Turnips** has some, too. You say which count; the others stay on record." in sure.text
    form = await asking.form(button(sure, "Make them one").key)
    assert [field.key for field in form.fields] == ["reason", "counts-run", "counts-bunting", "counts-chain"]
    chosen = {"counts-run": picked, "counts-bunting": "stays", "counts-chain": "stays"}
    await asking.ask(form.key, fields={"reason": "Both were too small", **chosen})
    sql = f"SELECT items_json FROM attempt WHERE event = 'run' AND squad_id = {turnips}"
    assert await rows(asking, sql) == [(f'{{"sock": {socks}}}',)]
    async with asking.store.read() as db:
        assert await db.rows("PRAGMA foreign_key_check") == []


async def test_a_form_that_opened_before_both_were_scored_asks_whose_counts_when_it_is_sent(begin: Begin) -> None:
    asking, (_, teapots, turnips) = await whole(begin, 3, "judging")
    async with asking.store.write() as db:
        await db.run("UPDATE attempt SET undone_at = recorded_at WHERE squad_id = ? AND event = 'run'", turnips)
    sure = await asking.message(f"merge.ask:{teapots}", values=(str(turnips),))
    form = await asking.form(button(sure, "Make them one").key)
    assert "counts-run" not in [field.key for field in form.fields]
    async with asking.store.write() as db:
        await db.run("UPDATE attempt SET undone_at = NULL WHERE squad_id = ? AND event = 'run'", turnips)
    typed = {"reason": "Both of them were too small"}
    for late in (f"merge.done:{teapots}:{turnips}", f"merge.why:{teapots}:{turnips}"):
        told = await asking.message(late, fields=typed)
        assert "so they are still two" in told.text, "a button of an older version"
    again = await asking.message(form.key, fields=typed)
    assert "so they are still two" in again.text and "**Sleepy Turnips** has some, too" in again.text
    assert "> Both of them were too small" in again.text
    assert await rows(asking, f"SELECT withdrawn FROM squad WHERE id = {teapots}") == [(0,)]
    asked = await asking.form(button(again, "Make them one").key)
    assert "counts-run" in [field.key for field in asked.fields]


async def test_a_judge_who_may_not_mark_one_of_them_does_not_mark_the_new_one(begin: Begin) -> None:
    """Somebody else steps in; where nobody is free, the coach is told, with the button."""
    cast = await judging_cast(begin)
    asking = cast.asking
    await asking.ask("panels.size:bunting:bunting", values=("2",))
    await cast.open()
    async with asking.store.read() as db:
        ids = {squad.name: squad.id for squad in await squads.squads(db, 1)}
        seated = await panels.seats(db, 1, "bunting", "bunting")
    goes, stays = ids["Crooked Spoons"], ids["Muddy Teapots"]
    judge = next(seat.judge_id for seat in seated if seat.squad_id == stays)
    async with asking.store.write() as db:
        await conflicts_of_interest.tie(db, judge, goes, "coach", asking.now)
    await merge(asking, goes, stays, "Both were too small")
    async with asking.store.read() as db:
        now = {seat.judge_id for seat in await panels.seats(db, 1, "bunting", "bunting") if seat.squad_id == stays}
        dealt = {
            sheet.judge_id
            for sheet in await score_sheets.sheets(db, 1)
            if (sheet.squad_id, sheet.event, sheet.state) == (stays, "bunting", "open")
        }
    assert len(now) == 2 and judge not in now and dealt == now
    assert not any("lacks judges" in text for text in await asking.messages_to("office"))
    other = ids["Sleepy Turnips"]
    async with asking.store.write() as db:
        await conflicts_of_interest.tie(db, min(now), other, "coach", asking.now)
    await merge(asking, other, stays, "Again too small")
    told = [text for text in await asking.messages_to("office") if "lacks judges" in text]
    assert len(told) == 1 and "**Bunting**: 1 judge of 2" in told[0]

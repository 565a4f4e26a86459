"""The practice table's live messages: a squad's own in its room, and the board with everybody's."""

from datetime import datetime
from typing import Any

from bot.actions.practice.practice_table import plan_openings, the_table
from storage.tables import practice as table
from tests.actions.conftest import Begin
from tests.actions.office_cast import make_squad, planned, texts, until
from tests.actions.practice.test_booking import booking, slots_owed
from tests.actions.practice_cast import (
    BRIEF,
    FIRST,
    PRACTICE,
    SECOND,
    TURNS,
    book,
    card,
    card_text,
    window,
)


async def test_with_the_brief_every_squad_has_a_card_and_everyone_a_board(begin: Begin) -> None:
    asking, comets, _ = await window(begin)
    async with asking.store.read() as db:
        cards = await db.rows(
            """SELECT key, address FROM live_message WHERE key GLOB 'practice/*' OR key GLOB 'turns/*'"""
        )
    wanted = [("practice/1", "squad/1"), ("practice/2", "squad/2"), ("turns/1", "signup")]
    assert [tuple(row) for row in cards] == wanted
    mine = await card(asking, f"practice/{comets}")
    assert mine is not None and texts(mine) == ["Book a turn", "Give a turn back", "All turns"]
    assert "no turn yet" in mine.text and f"You may book {TURNS // 2} turns now" in mine.text
    board = await card_text(asking, "turns/1")
    assert board.count("free") == TURNS and "Sat" not in board


async def test_the_button_goes_off_when_what_was_left_over_begins_or_everything_is_taken(begin: Begin) -> None:
    asking, comets, moles = await window(begin, practice=PRACTICE.model_copy(update={"turns": 1}))
    await book(asking, 1, FIRST)
    await book(asking, 11, SECOND)
    (opens,) = {job.at for job in await planned(asking, "practice-opens") if job.state == "waiting"}
    await until(asking, opens)
    assert not (await booking(asking, comets)).disabled and not (await booking(asking, moles)).disabled
    (shuts,) = {job.at for job in await planned(asking, "practice-shuts") if job.state == "waiting"}
    await until(asking, shuts)
    assert (await booking(asking, comets)).disabled == (
        "left over" not in await card_text(asking, f"practice/{comets}")
    )
    async with asking.store.write() as db:
        tryout = await asking.tryout()
        for free in (await the_table(db, tryout)).free(asking.now):
            await table.hold(db, tryout.id, free, moles)
        await plan_openings(db, tryout, asking.now)
    assert (await booking(asking, comets)).disabled
    assert "There are no turns left to book." in await card_text(asking, f"practice/{comets}")


async def test_a_squad_founded_in_the_window_has_its_card_too(begin: Begin) -> None:
    closes = {"signup_closes": datetime(2027, 1, 14, 15, 30)}  # noqa: DTZ001
    asking = await begin("drafting", practice=PRACTICE, calendar=_calendar(closes))
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, BRIEF)
    late = await make_squad(asking, 11, 3, "Muddy Teapots")
    assert "no turn yet" in await card_text(asking, f"practice/{late}")
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM live_message WHERE key = ?", f"practice/{late}") == 1


async def test_where_the_plan_has_no_practice_there_is_none(begin: Begin) -> None:
    asking, comets, _ = await window(begin, practice=None)
    assert "do not look after turns" in (await asking.message("practice.book", 1)).text
    assert await card(asking, f"practice/{comets}") is None
    assert await slots_owed(asking) == {}
    async with asking.store.read() as db:
        assert (
            await db.value("SELECT count(*) FROM live_message WHERE key GLOB 'practice/*' OR key GLOB 'turns/*'") == 0
        )
    assert "Practice" not in texts(await asking.message("office"))


def _calendar(more: dict[str, Any]) -> dict[str, Any]:
    return {"brief": datetime(2027, 1, 11, 15, 30), **more}  # noqa: DTZ001

"""Turns at the practice table are booked and given back, on a real database."""

from datetime import timedelta

import pytest

from bot.actions.calendar.squad_debts import debts
from storage.records.message import Button, Select
from storage.tables import practice as table
from storage.tables import squads, tryouts
from storage.tables.sql_session import Conflict
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import make_squad, planned, until
from tests.actions.practice_cast import (
    FIRST,
    HOUR,
    PRACTICE,
    TURNS,
    book,
    card,
    card_text,
    give,
    seconds,
    window,
)


async def slots_owed(asking: Asking) -> dict[str, int]:
    """What each squad may still book, as reminders and the digest see it."""
    async with asking.store.read() as db:
        found = await debts(db, await asking.tryout(), asking.now)
    return {squad.name: debt.number for squad, owed in found for debt in owed if debt.kind == "slot"}


async def test_a_member_books_and_room_card_and_board_show_it(begin: Begin) -> None:
    asking, comets, _ = await window(begin)
    picked = await asking.message("practice.book", 2)
    select = next(row for row in picked.rows if isinstance(row, Select))
    assert len(select.choices) == TURNS
    assert select.choices[0].label == "Tue 12 January, 12:10"
    assert "Booked" in (await asking.message(select.key, 2, values=(select.choices[0].value,))).text
    assert f"<t:{seconds(FIRST)}:F>" in await card_text(asking, f"practice/{comets}")
    assert f"<t:{seconds(FIRST)}:t> **Crooked Spoons**" in await card_text(asking, "turns/1")
    assert any("is booked" in text for text in await asking.messages_to(f"squad/{comets}"))
    assert f"<t:{seconds(FIRST)}:F>" in (await asking.message("practice.mine", 3)).text


async def test_the_database_itself_lets_nobody_have_a_turn_twice(begin: Begin) -> None:
    asking, comets, moles = await window(begin)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await table.hold(db, tryout.id, FIRST, comets)
        with pytest.raises(Conflict):
            await table.hold(db, tryout.id, FIRST, moles)
        with pytest.raises(Conflict):
            await table.hold(db, tryout.id, FIRST, comets)


async def booking(asking: Asking, squad: int) -> Button:
    found = await card(asking, f"practice/{squad}")
    assert found is not None
    return button(found, "Book a turn")


async def test_a_turn_is_given_back_until_the_set_hour_and_is_free_again(begin: Begin) -> None:
    asking, comets, _ = await window(begin)
    await book(asking, 1, FIRST)
    assert "not have that turn" in await give(asking, 11, FIRST)
    assert "Given back" in await give(asking, 2, FIRST)
    assert [row.state for row in await planned(asking, "practice")] == ["cancelled"]
    assert "Booked" in await book(asking, 11, FIRST)
    await until(asking, FIRST - 2 * HOUR)
    assert "less than 2 hours" in await give(asking, 11, FIRST)
    assert "no turn that can still be given back" in (await asking.message("practice.give", 11)).text
    assert "is given back" in (await asking.messages_to(f"squad/{comets}"))[-1]


async def test_before_the_brief_and_after_the_deadline_nothing_is_booked(begin: Begin) -> None:
    asking = await begin("signup", practice=PRACTICE)
    await make_squad(asking, 1, 3, "Crooked Spoons")
    assert "once the brief is out" in await book(asking, 1, FIRST)
    async with asking.store.write() as db:
        await tryouts.set_state(db, 1, "judging")
    for key in ("practice.book", "practice.give"):
        assert "practice is over" in (await asking.message(key, 1)).text
    assert (await asking.message("practice.mine", 1)).rows == ()
    assert "free" in (await asking.message("practice.turns", 1)).text
    assert await card(asking, "turns/1") is None
    mine = await card(asking, "practice/1")
    assert mine is not None and mine.rows == ()


async def test_who_is_in_no_squad_books_nothing(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    assert "not in a squad" in await book(asking, 99, FIRST)


async def test_an_old_message_is_told_to_be_old(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    assert "out of date" in (await asking.message("practice.booked", 1, values=("soon",))).text
    assert "no turn at that time" in await book(asking, 1, FIRST + timedelta(minutes=1))
    async with asking.store.read() as db:
        assert len(await squads.squads(db, 1)) == 2

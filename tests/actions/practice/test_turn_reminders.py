"""Squads are reminded of their practice turns, once, and of those that they may book."""

from datetime import timedelta

from tests.actions.conftest import Begin
from tests.actions.office_cast import planned, until
from tests.actions.practice.test_booking import slots_owed
from tests.actions.practice_cast import (
    BRIEF,
    DAY,
    FIRST,
    HOUR,
    PRACTICE,
    SECOND,
    book,
    give,
    seconds,
    window,
)


async def test_a_squad_is_reminded_once_three_hours_before_its_turn(begin: Begin) -> None:
    asking, comets, moles = await window(begin)
    await book(asking, 1, FIRST)
    await book(asking, 1, SECOND)
    await give(asking, 1, SECOND)
    await until(asking, FIRST - 3 * HOUR - timedelta(seconds=1))
    assert not any("**Your turn" in text for text in await asking.messages_to(f"squad/{comets}"))
    await until(asking, FIRST + 9 * HOUR)
    told = [text for text in await asking.messages_to(f"squad/{comets}") if "**Your turn" in text]
    assert len(told) == 1 and f"Give it back by <t:{seconds(FIRST - 2 * HOUR)}:t>" in told[0]
    assert not any("**Your turn" in text for text in await asking.messages_to(f"squad/{moles}"))
    assert "practice" in {row.kind for row in await planned(asking)}


async def test_squads_are_reminded_of_turns_only_while_they_may_book_some(begin: Begin) -> None:
    asking, _, _ = await window(begin, practice=PRACTICE.model_copy(update={"turns": 1}))
    assert await slots_owed(asking) == {"Crooked Spoons": 1, "Muddy Teapots": 1}
    await book(asking, 1, FIRST)
    assert await slots_owed(asking) == {"Muddy Teapots": 1}
    await until(asking, BRIEF + DAY + HOUR)
    letters = await asking.messages_to("squad/2")
    assert any("1 practice turn at the table" in text for text in letters)
    assert not any("practice turn at the table" in text for text in await asking.messages_to("squad/1"))
    assert any("1 practice turn not booked" in text for text in await asking.messages_to("office"))

"""What the coach does with practice turns: some are booked for a squad, some are given back."""

import pytest

from bot.actions.core.dispatch import ACTIONS
from storage.records.message import Say, Select
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import until
from tests.actions.practice_cast import (
    FIRST,
    HOUR,
    TURNS,
    seconds,
    window,
)


async def test_the_coach_books_for_a_squad_and_gives_back_however_late(begin: Begin) -> None:
    asking, _, moles = await window(begin)
    shown = await asking.message("practice.turn", values=(str(seconds(FIRST)),))
    pick = await asking.message(button(shown, "Book for a squad").key)
    select = next(row for row in pick.rows if isinstance(row, Select))
    assert [choice.label for choice in select.choices] == ["Crooked Spoons", "Muddy Teapots"]
    done = await asking.message(select.key, values=(str(moles),))
    assert "**Muddy Teapots**" in done.text
    assert "Your coach has booked" in (await asking.messages_to(f"squad/{moles}"))[-1]
    await until(asking, FIRST - HOUR)
    shown = await asking.message("practice.turn", values=(str(seconds(FIRST)),))
    freed = await asking.message(button(shown, "Give it back").key)
    assert "Now: free" in freed.text
    assert "has given your turn" in (await asking.messages_to(f"squad/{moles}"))[-1]


async def test_the_office_leads_to_the_turns_while_there_are_some(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    office = await asking.message("office")
    panel = await asking.message(button(office, "Practice").key)
    assert f"{TURNS} turns, 0 taken; each squad may book {TURNS // 2} first" in panel.text


COACHES = sorted(key for key in ACTIONS if key.startswith("practice.") and ACTIONS[key].role == "coach")


def test_the_coach_has_all_the_keys_of_this_office() -> None:
    assert len(COACHES) == 11
    assert {ACTIONS[key].role for key in ACTIONS if key.startswith("practice.")} == {"anyone", "coach"}


@pytest.mark.parametrize("key", COACHES)
async def test_no_student_does_what_is_the_coachs(begin: Begin, key: str) -> None:
    asking, _, _ = await window(begin)
    answer = await asking.ask(f"{key}:{seconds(FIRST)}:0", 1, values=(str(seconds(FIRST)),))
    assert isinstance(answer, Say) and "Only a coach" in answer.message.text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM practice_turn") == 0

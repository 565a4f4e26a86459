"""What the coach does with practice turns: lost ones are repaid, some are closed, some are booked for a squad."""

import pytest

from bot.actions.core.dispatch import ACTIONS
from storage.records.message import Say, Select
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import texts, until
from tests.actions.practice_cast import (
    BRIEF,
    DAY,
    FIRST,
    HOUR,
    PRACTICE,
    SECOND,
    TURNS,
    book,
    card_text,
    seconds,
    window,
)


async def test_a_turn_lost_through_equipment_is_noted_and_repaid(begin: Begin) -> None:
    asking, comets, _ = await window(begin, practice=PRACTICE.model_copy(update={"turns": 1}))
    await book(asking, 1, FIRST)
    await until(asking, FIRST + HOUR)
    shown = await asking.message("practice.turn", values=(str(seconds(FIRST)),))
    assert texts(shown)[:1] == ["Lost: equipment"]
    after = await asking.message(button(shown, "Lost: equipment").key)
    assert "may book another" in after.text and "(lost)" in after.text
    assert "1 turn was lost because something was broken" in await card_text(asking, f"practice/{comets}")
    assert "lost through equipment: Crooked Spoons 1" in (await asking.message("practice.panel")).text
    assert "Booked" in await book(asking, 1, SECOND + DAY)
    assert "You may book another one" in "".join(await asking.messages_to(f"squad/{comets}"))
    assert "lost" not in await card_text(asking, f"practice/{comets}")
    back = await asking.message(button(after, "It was not lost").key)
    assert "counts again" in back.text


async def test_who_cannot_book_at_once_reads_from_when_instead_of_a_button_that_would_say_no(begin: Begin) -> None:
    asking, comets, _ = await window(begin, practice=PRACTICE.model_copy(update={"turns": 1}))
    await book(asking, 1, FIRST)
    await asking.ask(f"practice.booked-for:{seconds(SECOND)}", values=(str(comets),))
    await until(asking, FIRST + HOUR)
    await asking.ask(f"practice.lose:{seconds(FIRST)}")
    told = (await asking.messages_to(f"squad/{comets}"))[-1]
    assert "was lost because something was broken. It does not count as one of yours." in told
    assert "You may book another one" not in told and "You can book from <t:" in told


async def test_the_coach_closes_a_turn_and_its_squad_has_it_back(begin: Begin) -> None:
    asking, comets, _ = await window(begin)
    await book(asking, 1, FIRST)
    shown = await asking.message("practice.turn", values=(str(seconds(FIRST)),))
    closed = await asking.message(button(shown, "Close it").key)
    assert "closed" in closed.text
    assert "cannot be used" in (await asking.messages_to(f"squad/{comets}"))[-1]
    assert "is taken" in await book(asking, 11, FIRST)
    assert "closed" in await card_text(asking, "turns/1")
    await asking.ask(button(closed, "Open it again").key)
    assert "Booked" in await book(asking, 11, FIRST)


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


async def test_a_turn_noted_as_lost_after_the_window_still_shows_in_the_squads_room(begin: Begin) -> None:
    asking, comets, _ = await window(begin)
    await book(asking, 1, FIRST)
    await until(asking, BRIEF + 11 * DAY)
    async with asking.store.write() as db:
        await db.run("UPDATE live_message SET stale = 0")
    await asking.ask(f"practice.lose:{seconds(FIRST)}")
    async with asking.store.read() as db:
        assert await db.value("SELECT stale FROM live_message WHERE key = ?", f"practice/{comets}") > 0
    assert "lost because something was broken" in await card_text(asking, f"practice/{comets}")

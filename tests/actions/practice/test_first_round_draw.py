"""The lot for the first round, from the brief to the first bookings, on a real database."""

import re
from datetime import UTC, datetime, timedelta

from bot.rules.practice.first_round_draw import STEP
from bot.rules.practice.random_draw import draw
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import texts, until
from tests.actions.practice_cast import BRIEF, DAY, FIRST, PRACTICE, SECOND, book, card, seconds, window

WITH_LOT = PRACTICE.model_copy(update={"first_round": "draw", "key_source": "three dice_at noon"})
NOON = datetime(2027, 1, 12, 14, 0, tzinfo=UTC)  # 9:00 in New York


async def press_draw(asking: Asking, key: str) -> str:
    panel = await asking.message("practice.panel")
    form = await asking.form(button(panel, "Draw who chooses first").key)
    return (await asking.message(form.key, fields={"key": key})).text


async def test_list_and_source_are_published_before_and_key_and_order_after(begin: Begin) -> None:
    asking, comets, moles = await window(begin, practice=WITH_LOT)
    before = (await asking.messages_to("news"))[-1]
    assert "0. Crooked Spoons\n1. Muddy Teapots" in before and "three dice\\_at noon" in before
    assert "once your coach has drawn" in await book(asking, 1, FIRST)
    await until(asking, NOON)
    assert "The lot is drawn" in await press_draw(asking, "5 3 1")
    news = (await asking.messages_to("news"))[-1]
    assert "Key: `1.3.5./`" in news
    named = {comets: "Crooked Spoons", moles: "Muddy Teapots"}
    first, second = draw((comets, moles), "1.3.5./")
    assert re.findall(r"\d\. (\w+ \w+), from", news) == [named[first], named[second]]
    assert "first turn from" in (await asking.messages_to(f"squad/{second}"))[-1]
    members = {comets: 1, moles: 11}
    assert "each squad has its moment" in await book(asking, members[second], FIRST)
    assert "Booked" in await book(asking, members[first], FIRST)
    assert "each squad books one turn" in await book(asking, members[first], SECOND)
    await until(asking, NOON + STEP + timedelta(minutes=1))
    assert "Booked" in await book(asking, members[second], SECOND)
    await until(asking, NOON + 2 * STEP + timedelta(minutes=1))
    assert "Booked" in await book(asking, members[first], FIRST + DAY)


async def test_it_is_drawn_once(begin: Begin) -> None:
    asking, _, _ = await window(begin, practice=WITH_LOT)
    await press_draw(asking, "5 3 1")
    assert "drawn already" in (await asking.message("practice.drawn", fields={"key": "6 6 6"})).text
    assert "Draw who chooses first" not in texts(await asking.message("practice.panel"))
    async with asking.store.read() as db:
        assert await db.value("SELECT key FROM practice_draw") == "1.3.5./"


async def test_when_nobody_draws_booking_opens_by_itself_after_a_day(begin: Begin) -> None:
    asking, _, _ = await window(begin, practice=WITH_LOT)
    await until(asking, BRIEF + DAY)
    assert "Booked" in await book(asking, 1, FIRST + DAY)
    assert "Nobody drew within a day" in (await asking.message("practice.draw")).text


async def test_what_is_no_key_is_refused_and_nothing_is_drawn(begin: Begin) -> None:
    asking, _, _ = await window(begin, practice=WITH_LOT)
    assert "Letters and digits only" in await press_draw(asking, "`")
    assert "once your coach has drawn" in await book(asking, 1, FIRST)


async def test_a_plan_without_a_lot_has_none(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    assert "has no lot" in (await asking.message("practice.draw")).text
    assert "Draw who chooses first" not in texts(await asking.message("practice.panel"))
    assert f"<t:{seconds(FIRST)}:F>" in await book(asking, 1, FIRST)


async def test_the_cards_button_is_off_until_the_squads_own_moment(begin: Begin) -> None:
    asking, comets, moles = await window(begin, practice=WITH_LOT)

    async def off(squad: int) -> bool:
        shown = await card(asking, f"practice/{squad}")
        assert shown is not None
        return button(shown, "Book a turn").disabled

    assert await off(comets) and await off(moles)
    await until(asking, NOON)
    await press_draw(asking, "5 3 1")
    first, second = draw((comets, moles), "1.3.5./")
    assert not await off(first) and await off(second)
    await until(asking, NOON + STEP + timedelta(minutes=1))
    assert not await off(second)


async def test_the_cards_button_follows_what_the_coach_does(begin: Begin) -> None:
    asking, comets, _ = await window(begin)
    for day in range(10):
        for begin_of_turn in (FIRST, SECOND):
            await book(asking, 1, begin_of_turn + day * DAY)
    shown = await card(asking, f"practice/{comets}")
    assert shown is not None and button(shown, "Book a turn").disabled
    await asking.ask(f"practice.release:{seconds(FIRST)}")
    shown = await card(asking, f"practice/{comets}")
    assert shown is not None and not button(shown, "Book a turn").disabled

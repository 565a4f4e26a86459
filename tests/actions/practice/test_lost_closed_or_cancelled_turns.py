"""Practice turns that are lost, closed, or no more after dates were moved are told and given back."""

from datetime import UTC, datetime

from bot.rules.plan.read_plan import write_plan
from storage.records.message import Message
from storage.records.request import Upload
from storage.tables import practice as table
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import planned, texts, until
from tests.actions.practice_cast import (
    BRIEF,
    DAY,
    FIRST,
    HOUR,
    PRACTICE,
    SECOND,
    book,
    card_text,
    seconds,
    window,
)


async def test_turns_outside_new_dates_are_told_and_given_back(begin: Begin) -> None:
    asking, comets, moles = await window(begin)
    late = datetime(2027, 1, 20, 17, 10, tzinfo=UTC)
    assert "Booked" in await book(asking, 1, FIRST)
    assert "Booked" in await book(asking, 11, late)
    plan = (await asking.tryout()).plan
    shorter = plan.model_copy(update={"calendar": plan.calendar.model_copy(update={"days": 4})})
    file = {"plan": Upload(name="plan.toml", data=write_plan(shorter).encode())}
    sure = await asking.message("plan.use", uploads=file, fields={"reason": "Snow days"})
    await asking.ask(next(key for key in _keys(sure) if key.startswith("plan.apply")))
    told = (await asking.messages_to(f"squad/{moles}"))[-1]
    assert f"<t:{seconds(late)}:F>" in told and "may book another one" in told
    assert not any("has changed" in text for text in await asking.messages_to(f"squad/{comets}"))
    async with asking.store.read() as db:
        turns = await table.turns(db, 1)
    assert [turn.begins_at for turn in turns] == [FIRST]
    states = {row.key: row.state for row in await planned(asking, "practice")}
    assert states == {f"{comets}.{seconds(FIRST)}": "waiting", f"{moles}.{seconds(late)}": "cancelled"}


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


def _keys(message: Message) -> list[str]:
    return [part.key for row in message.rows if isinstance(row, tuple) for part in row]

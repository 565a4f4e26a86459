"""A snow day: shown before it is done, told to everyone once, and squads that lost a turn choose first."""

from datetime import UTC, date, datetime, timedelta

from bot.rules.calendar.calendar import schedule
from bot.rules.plan.close_days import Moves
from bot.words.plan.close_days import what_moves
from storage.records.plan import Calendar
from tests.actions.conftest import Asking, Begin, button
from tests.actions.event_day.day_cast import one_lesson
from tests.actions.office_cast import BRIEF, make_squad, until
from tests.actions.practice_cast import PRACTICE

CALENDAR = Calendar(brief=datetime(2027, 1, 11, 15, 30), counting="school")  # noqa: DTZ001 - local by meaning


async def window(begin: Begin) -> tuple[Asking, int, int]:
    asking = await begin("drafting", practice=PRACTICE, calendar=CALENDAR)
    await asking.confirm("signup.open")
    squads = await make_squad(asking, 1, 3, "Crooked Spoons"), await make_squad(asking, 11, 3, "Muddy Teapots")
    await until(asking, BRIEF)
    return asking, *squads


async def turn_on(asking: Asking, who: int, day: str) -> str:
    """Book the first free turn of a day; its value."""
    rows = (await asking.message("practice.book", who)).rows
    choices = [one for row in rows if not isinstance(row, tuple) for one in getattr(row, "choices", ())]
    value = next(one.value for one in choices if f"{datetime.fromtimestamp(int(one.value), UTC):%m-%d}" == day)
    await asking.ask("practice.booked", who, values=(value,))
    return str(value)


async def test_what_moves_is_shown_first_and_told_once(begin: Begin) -> None:
    asking, spoons, teapots = await window(begin)
    await turn_on(asking, 1, "01-14")
    form = await asking.form(button(await asking.message("plan.panel"), "Close a day").key)
    assert [field.key for field in form.fields] == ["first", "last", "reason"]
    news = await asking.messages_to("news")
    shown = await asking.message(form.key, fields={"first": "2027-01-14", "last": "", "reason": "Snow"})
    assert "Closed: Thursday 14 January." in shown.text
    assert "Turns at the practice table that fall away: **Crooked Spoons** (1)" not in shown.text
    assert "that fall away: Crooked Spoons (1)" in shown.text and "instead of" in shown.text
    assert await asking.messages_to("news") == news
    await asking.ask(button(shown, "Yes, change it").key)
    told = await asking.messages_to("news")
    assert len(told) == len(news) + 1 and "Snow" in told[-1]
    mine = [text for text in await asking.messages_to(f"squad/{spoons}") if "are gone" in text or "is gone" in text]
    assert len(mine) == 1 and "you choose before the other squads." in mine[0]
    assert not any("gone" in text for text in await asking.messages_to(f"squad/{teapots}"))


async def test_the_days_of_an_event_that_move_are_written_out(begin: Begin) -> None:
    asking = await begin("window", event_day=one_lesson())
    plan = (await asking.tryout()).plan
    dates = schedule(plan, BRIEF)
    moves = Moves(dates, dates, (), ((date(2027, 1, 26),), (date(2027, 1, 27),)))
    assert "- Event day: Wednesday 27 January 2027 instead of Tuesday 26 January 2027" in what_moves(moves, (), False)


async def test_before_the_brief_the_class_reads_nothing_where_no_date_moves_and_what_was_where_one_does(
    begin: Begin,
) -> None:
    asking = await begin("drafting", calendar=CALENDAR)
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    news = await asking.messages_to("news")
    shown = await asking.message("days.closed", fields={"first": "2027-01-16", "last": ""})
    assert "nothing is said to it" in shown.text
    panel = await asking.message(button(shown, "Yes, change it").key)
    assert "The plan is changed." in panel.text and "has been told" not in panel.text
    assert await asking.messages_to("news") == news
    shown = await asking.message("days.closed", fields={"first": "2027-01-14", "last": ""})
    await asking.ask(button(shown, "Yes, change it").key)
    said = (await asking.messages_to("news"))[-1]
    assert said.count("\n- ") == 1 and "- The deadline is <t:" in said and "(before: <t:" in said


async def test_squads_that_lost_a_turn_choose_first_for_a_day(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await turn_on(asking, 1, "01-14")
    shown = await asking.message("days.closed", fields={"first": "2027-01-14", "last": "", "reason": "Snow"})
    await asking.ask(button(shown, "Yes, change it").key)
    refused = await asking.message("practice.book", 11)
    assert "cannot book a turn right now" in refused.text
    await turn_on(asking, 1, "01-15")
    assert await turn_on(asking, 11, "01-15")


async def test_after_a_day_everybody_chooses_again(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await turn_on(asking, 1, "01-14")
    shown = await asking.message("days.closed", fields={"first": "2027-01-14", "last": "", "reason": "Snow"})
    await asking.ask(button(shown, "Yes, change it").key)
    asking.now += timedelta(days=1, minutes=1)
    assert await turn_on(asking, 11, "01-15")


async def test_a_pause_of_several_days_and_what_is_refused(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    fields = {"first": "2027-01-13", "last": "2027-01-19", "reason": "Heating is out"}
    shown = await asking.message("days.closed", fields=fields)
    assert "Wednesday 13 January" in shown.text and "Tuesday 19 January" in shown.text
    for first, last, said in (
        ("2027-01-10", "", "is past"),
        ("2027-01-14", "2027-01-13", "before the first"),
        ("soon", "", "soon"),
        ("2027-01-14", "2028-01-14", "longer than 60 days"),
    ):
        message = await asking.message("days.closed", fields={"first": first, "last": last, "reason": "x" * 5})
        assert said in message.text, message.text
    weekend = await asking.message("days.closed", fields={"first": "2027-01-16", "last": "", "reason": "Because"})
    assert "no school day" in weekend.text

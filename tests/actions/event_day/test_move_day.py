"""The event day moves: everything to come is later, or the plan has other days; squads and the office read of it."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import KEY, NINE, made, planned, save, slots
from tests.actions.table_help import labels, press


async def test_later_moves_everything_to_come_and_nothing_that_is_over(begin: Begin) -> None:
    asking = await made(begin)
    asking.now = NINE + timedelta(minutes=4)
    before = {slot.id: slot.begins_at for slot in (*await slots(asking), *await slots(asking, "interview"))}
    first = (await slots(asking))[0]
    await save(asking, first, 1)
    form = await asking.form("day.later")
    said = await asking.message(form.key, fields={"minutes": "15"})
    assert "have been told" in said.text
    for slot in (*await slots(asking), *await slots(asking, "interview")):
        by = timedelta() if slot.id == first.id else timedelta(minutes=15)
        assert slot.begins_at - before[slot.id] == by
    assert "whole minutes" in (await asking.message(form.key, fields={"minutes": "soon"})).text


async def test_before_the_squads_have_read_the_timetable_nobody_is_said_to_have_been_told(begin: Begin) -> None:
    asking = await planned(begin)
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    await asking.ask("day.make")
    heard = [await asking.messages_to(f"squad/{squad}") for squad in range(1, 5)]
    said = await asking.message((await asking.form("day.later")).key, fields={"minutes": "15"})
    assert "4 squads have other times now, and read them once you tell the squads." in said.text
    assert "been told" not in said.text
    assert [await asking.messages_to(f"squad/{squad}") for squad in range(1, 5)] == heard


async def test_a_snow_day_moves_the_timetable_by_the_clock_on_the_wall_and_tells_the_squads(begin: Begin) -> None:
    asking = await made(begin)
    before = [slot.begins_at for slot in await slots(asking)]
    plan = (await asking.tryout()).plan
    assert plan.event_day is not None
    typed = {"dates": "2027-03-15", "lessons": "7-A 9:00-10:30", "breaks": "", "numbers": "1, 5, 10, 3, lesson"}
    asked = await asking.filled("day.plan", fields={**typed, "reason": "Snow on the day."})
    await press(asking, asked, next(label for label in labels(asked) if "hange" in label))
    after = [slot.begins_at for slot in await slots(asking)]
    zone = ZoneInfo("America/New_York")
    # On 15 March 2027 the clocks have gone forward: nine o'clock is one hour earlier in UTC.
    assert [at.astimezone(zone).time() for at in after] == [at.astimezone(zone).time() for at in before]
    assert {at.astimezone(zone).date() for at in after} == {date(2027, 3, 15)}
    assert after[0] - before[0] == timedelta(days=52, hours=-1)
    assert "Your times have changed" in (await asking.messages_to("squad/1"))[-1]


async def test_a_day_closed_for_snow_moves_the_timetable_to_the_next_school_day_and_tells_everyone(
    begin: Begin,
) -> None:
    asking = await made(begin)
    before = [slot.begins_at for slot in await slots(asking)]
    asked = await asking.message("days.closed", fields={"first": "2027-01-22", "last": "", "reason": "Snow"})
    assert "event day" in asked.text.casefold()
    await press(asking, asked, next(label for label in labels(asked) if "hange" in label))
    # The 22nd was a Friday; the next school day is Monday.
    assert [slot.begins_at - timedelta(days=3) for slot in await slots(asking)] == before
    for squad in range(1, 5):
        assert "Your times have changed" in (await asking.messages_to(f"squad/{squad}"))[-1]


async def test_other_lessons_are_said_in_the_office_because_the_timetable_was_made_from_the_old_ones(
    begin: Begin,
) -> None:
    asking = await made(begin)
    typed = {"dates": "2027-01-22", "lessons": "7-A 11:00-12:30", "breaks": "", "numbers": "1, 5, 10, 3, lesson"}
    asked = await asking.filled("day.plan", fields={**typed, "reason": "The room is taken."})
    await press(asking, asked, next(label for label in labels(asked) if "hange" in label))
    assert "press **Make it again**" in (await asking.messages_to("office"))[-1]
    await asking.ask("day.make")
    assert all(slot.begins_at >= NINE + timedelta(hours=2) for slot in await slots(asking))

"""The plan of the day changes under a timetable: days move by the clock on the wall, and the office reads of it."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import NINE, made, press, slots
from tests.actions.table_help import labels


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

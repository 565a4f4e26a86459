"""The times of the event day for people's own calendars."""

import icalendar

from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import made, slots


async def test_calendar_files_hold_the_times_of_all_for_the_coach_and_of_one_squad_for_its_members(
    begin: Begin,
) -> None:
    asking = await made(begin)
    for key, who, count in (("day.calendar", 100, 12), ("day.my-calendar", 10_100, 3)):
        (file,) = (await asking.message(key, who)).files
        events = icalendar.Calendar.from_ical(file.data).walk("VEVENT")
        assert len(events) == count
        begins = sorted(event.decoded("DTSTART") for event in events)
        mine = [s for s in (*await slots(asking), *await slots(asking, "interview")) if count == 12 or s.squad_id == 1]
        assert begins == sorted(slot.begins_at for slot in mine)

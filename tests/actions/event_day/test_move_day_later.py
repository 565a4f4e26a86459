"""Everything that is still to come moves later."""

from datetime import timedelta

from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import KEY, NINE, made, planned, save, slots


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

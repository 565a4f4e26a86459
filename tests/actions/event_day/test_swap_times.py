"""Two squads swap their times: told to them alone, and nobody in two places."""

from tests.actions.conftest import Begin
from tests.actions.core.test_stale_buttons import selects
from tests.actions.event_day.day_cast import NINE, made, slots


async def test_a_swap_tells_the_two_squads_and_nobody_else(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0)
    asking.now = NINE
    runs = await slots(asking)
    one = runs[0]
    other = next(slot for slot in runs[1:] if slot.squad_id != one.squad_id)
    heard = {squad: len(await asking.messages_to(f"squad/{squad}")) for squad in range(1, 5)}
    shown = await asking.message("day.slot", values=(str(one.id),))
    assert "Pick another one to swap times with" in shown.text
    said = await asking.message(selects(shown)[0].key, values=(str(other.id),))
    assert "2 squads had other times" in said.text
    now = {slot.id: slot.begins_at for slot in await slots(asking)}
    assert (now[one.id], now[other.id]) == (other.begins_at, one.begins_at)
    told = {
        squad
        for squad in heard
        if "times have changed" in "".join((await asking.messages_to(f"squad/{squad}"))[heard[squad] :])
    }
    assert told == {one.squad_id, other.squad_id}


async def test_a_swap_that_would_put_somebody_into_two_places_is_refused(begin: Begin) -> None:
    asking = await made(begin, 4)
    runs, talks = await slots(asking), await slots(asking, "interview")
    busy = next(
        (run, other)
        for run in runs
        for other in runs
        for talk in talks
        if other.squad_id != run.squad_id == talk.squad_id
        and talk.begins_at < other.ends_at
        and other.begins_at < talk.ends_at
    )
    shown = await asking.message(f"day.slot:{busy[0].id}")
    said = await asking.message(selects(shown)[0].key, values=(str(busy[1].id),))
    assert "two places at once" in said.text
    assert "run can swap with a run" in (await asking.message(selects(shown)[0].key, values=(str(talks[0].id),))).text

"""Calls: the first three at a table, in time, and each of them once."""

from datetime import timedelta

from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import NINE, calls, made, slots
from tests.actions.office_cast import until
from tests.actions.table_help import labels


async def test_the_first_three_are_called_in_time_and_each_of_them_once(begin: Begin) -> None:
    asking = await made(begin)
    await until(asking, NINE - timedelta(minutes=10))
    order = [slot.squad_id for slot in await slots(asking)]
    said = [(await calls(asking, squad))[0].split("**")[1] for squad in dict.fromkeys(order[:3])]
    assert said == [f"You are {place} in line" for place in ("first", "second", "third")][: len(said)]
    asked = ["Please be there in time" in (await calls(asking, squad))[0] for squad in dict.fromkeys(order[:3])]
    assert asked == [True, False, False][: len(asked)]
    await until(asking, NINE - timedelta(minutes=9))
    assert [len(await calls(asking, squad)) for squad in order[:4]].count(1) == 3


async def test_an_absent_squad_is_passed_over(begin: Begin) -> None:
    asking = await made(begin, 3, judges=0)
    asking.now = NINE
    first = (await slots(asking))[0]
    await asking.filled(f"table.absence:run.socks:{first.squad_id}", fields={"state": "absent", "reason": ""})
    assert f"**on** {first.squad_id} " not in (await asking.message("day.board")).text


async def test_a_squad_that_runs_twice_in_a_row_is_told_so_once(begin: Begin) -> None:
    asking = await made(begin, 1, judges=0)
    asking.now = NINE
    assert [one.squad_id for one in await slots(asking)] == [1, 1]
    assert labels(await asking.message("table.save:run.socks:1:1:4:0")) == [
        "Attempt 2 of the same squad", "Undo", "All squads",
    ]  # fmt: skip
    assert "Attempt 2 of the same squad" not in labels(await asking.message("table.save:run.socks:1:2:4:0"))

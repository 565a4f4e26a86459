"""A squad that is not there comes last once, and then the coach decides."""

from datetime import timedelta

from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import NINE, line_time, made, slots
from tests.actions.table_help import labels, press


async def test_a_squad_that_is_not_there_comes_last_once_and_then_the_coach_decides(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0)
    asking.now = NINE
    runs = await slots(asking)
    first = runs[0]
    board = await asking.message("day.board")
    number = first.squad_id
    sure = await press(asking, board, f"Not here: {number}")
    assert [slot.id for slot in await slots(asking)] == [slot.id for slot in runs]
    assert labels(sure) == ["Back to the board", "It is not here"]
    said = await press(asking, sure, "It is not here")
    after = await slots(asking)
    assert after[-1].id == first.id
    assert f"was not here: the run comes at <t:{line_time(after[-1])}:t> now" in said.text
    assert [slot.begins_at for slot in after] == [slot.begins_at for slot in runs]
    why, changed = (await asking.messages_to(f"squad/{first.squad_id}"))[-2:]
    assert "You still get this run: your squad's times in this room say when." in why
    assert "Your times have changed" in changed
    # What is the first run now is held against what was the first run before.
    old = [line_time(slot) for slot in runs if slot.squad_id == first.squad_id]
    new = [line_time(slot) for slot in after if slot.squad_id == first.squad_id]
    for number, (was, now) in enumerate(zip(old, new, strict=True), 1):
        (line,) = [one for one in changed.split("\n") if f"Sock run, run {number}" in one]
        assert (f"(**before: <t:{was}:t>**)" in line) == (was != now) and f"<t:{now}:" in line
    # The same board pressed once more, as on a bad line, is the same absence.
    assert "was not here:" not in (await press(asking, sure, "It is not here")).text
    assert [slot.misses for slot in await slots(asking) if slot.id == first.id] == [1]
    asking.now = after[-1].begins_at
    again = await asking.message(f"day.missed:{first.id}:1")
    assert "the coach decides" in again.text
    told = (await asking.messages_to("office"))[-1]
    assert "was not here twice for Sock run" in told
    shown = (await asking.message("day.board")).text
    assert f"The coach decides: {first.squad_id} " in shown and "0 of 8 runs done." in shown
    room = [text for text in await asking.messages_to(f"squad/{first.squad_id}") if "Please go to your coach" in text]
    assert len(room) == 1 and "<@" in room[0]
    await asking.ask(f"day.closed:{first.id}")
    last = (await slots(asking))[-1]
    assert (last.id, last.closed_at) == (first.id, None)
    again = await asking.message(f"day.closed:{first.id}")
    assert again.text.endswith("that is decided already, so nothing was changed.")
    assert (await slots(asking))[-1] == last


async def test_nobody_is_late_before_the_time_that_the_squad_was_told(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0)
    first = (await slots(asking))[0]
    asking.now = first.begins_at - timedelta(minutes=1)
    for key in (f"day.ask-missed:{first.id}", f"day.missed:{first.id}:0"):
        refused = (await asking.message(key)).text
        assert f"Its time is <t:{line_time(first)}:t>. Before that it is not late" in refused
    assert [slot.misses for slot in await slots(asking)] == [0] * 8
    assert not any("not at the table" in text for text in await asking.messages_to(f"squad/{first.squad_id}"))
    asking.now = first.begins_at
    assert "was not here: the run comes at" in (await asking.message(f"day.missed:{first.id}:0")).text

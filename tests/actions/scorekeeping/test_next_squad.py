"""Which squad is one press away after a saved run, by the timetable."""

from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import NINE, made, slots
from tests.actions.table_help import add_squads, at_squad, enter, labels, press


async def test_after_a_saved_run_the_next_squad_of_the_timetable_is_one_press_away(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0)
    asking.now = NINE
    for place in range(3):
        runs = await slots(asking)
        saved = await asking.message(f"table.save:run.socks:{runs[place].squad_id}:{1}:4:0")
        following = runs[place + 1].squad_id
        assert any(label.startswith(f"Next: {following} ") for label in labels(saved)), place


async def test_where_a_table_has_nobody_left_the_next_step_is_the_board_and_no_squad_of_the_other_table(
    begin: Begin,
) -> None:
    asking = await made(begin, 4, judges=0, tables=2)
    asking.now = NINE
    at_one = [slot for slot in await slots(asking) if slot.table_number == 1]
    left = [f"table.save:run.socks:{slot.squad_id}:{slot.number}:4:0" for slot in at_one]
    saved = [await asking.message(key) for key in left]
    assert labels(saved[-1])[0] == "Who is next"
    others = {slot.squad_id for slot in await slots(asking) if slot.table_number == 2}
    assert not [
        label
        for message in saved
        for label in labels(message)
        if label.startswith(tuple(f"Next: {one} " for one in others))
    ]
    assert "**Table 1**" not in (await press(asking, saved[-1], "Who is next")).text


async def test_the_next_squad_is_one_press_away_and_the_last_leads_to_the_first(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 3)
    card = await at_squad(asking, "run.socks", "3 Sleepy Turnips")
    saved = await press(asking, await enter(asking, card, "Enter attempt 1 of 2", **{"item-sock": "1"}), "Save")
    assert (await press(asking, saved, "Next: 1 Crooked Spoons")).text.startswith("**1 Crooked Spoons**")
    listed = await press(asking, saved, "All squads")
    assert "0 of 3 squads done, 1 attempt in." in listed.text

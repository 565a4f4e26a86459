"""The board: who is on and next at each table, moved on by saved attempts."""

from datetime import timedelta

from storage.tables import helpers
from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import KEEPER, NINE, calls, made, save, slots
from tests.actions.office_cast import until
from tests.actions.table_help import labels, press


async def test_a_saved_attempt_moves_the_board_on_and_calls_the_next(begin: Begin) -> None:
    asking = await made(begin)
    await until(asking, NINE)
    runs = await slots(asking)
    board = await asking.message("day.board")
    assert f"**on** {runs[0].squad_id} " in board.text
    fourth = runs[3].squad_id
    before = len(await calls(asking, fourth))
    asking.now = NINE + timedelta(minutes=4)
    await save(asking, runs[0], 1)
    board = await press(asking, board, "Refresh")
    assert f"**on** {runs[1].squad_id} " in board.text
    assert "1 of 8 runs done." in board.text
    assert len(await calls(asking, fourth)) == before + 1


async def test_two_tables_have_their_own_squads_and_a_press_at_one_leaves_the_other_alone(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0, tables=2)
    asking.now = NINE
    runs = await slots(asking)
    at = {table: [slot for slot in runs if slot.table_number == table] for table in (1, 2)}
    board = await asking.message("day.board")
    assert "**Table 1**" in board.text
    assert "**Table 2**" in board.text
    await asking.ask(f"day.missed:{at[1][0].id}")
    assert [s.id for s in await slots(asking) if s.table_number == 2] == [s.id for s in at[2]]


async def test_a_scorekeeper_sees_the_board_and_moves_nobody(begin: Begin) -> None:
    asking = await made(begin)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, KEEPER, "Keeper", "scorekeeper")
    table = await asking.message("table.panel", KEEPER)
    board = await press(asking, table, "Who is next", who=KEEPER)
    assert sum(label.startswith("Not here: ") for label in labels(board)) >= 1
    opened = await press(asking, board, next(label for label in labels(board) if label.startswith("Open ")), who=KEEPER)
    assert "Run pad" in labels(opened)
    assert "Only a coach" in (await asking.message("day.later", KEEPER)).text

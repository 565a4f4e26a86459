"""The board of the event day, for the coach and for whoever stands at a table."""

from bot.actions.core.dispatch import view
from bot.actions.core.live_messages import live_message
from bot.actions.event_day.own_times import is_told
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.event_day.day_board import check_shown, stands
from bot.rules.event_day.may_arrange import check_runs
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import day_board as words
from storage.records.message import Answer, Message, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import live_messages, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(DayKey.DAY_BOARD, "scorekeeper")
async def board(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show who is on and who is next."""
    return Replace(message=await board_now(db, tryout, request))


@view(DayKey.DAY_TABLE, "scorekeeper")
async def board_apart(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """The same in a message of its own, where the pressed one belongs to everybody in the room."""
    return Say(message=await board_now(db, tryout, request))


async def place_board(db: Transaction, tryout: Tryout) -> None:
    """Have the board stand in the office."""
    await live_messages.place(db, tryout.id, "day-board", "office")


@live_message("day-board")
async def board_in_office(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The board in the office."""
    if not stands(tryout.state, await is_told(db, tryout)):
        return None
    found = await running_day(db, tryout, tryout.created_at)
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    return words.board(tryout.plan, found, names) if found.slots else None


async def board_now(db: Snapshot, tryout: Tryout, request: Request, said: str = "") -> Message:
    """The board for whoever stands at a table, with what was `said` about the last press."""
    check_runs(tryout)
    found = await running_day(db, tryout, request.at)
    check_shown(found, await is_told(db, tryout))
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    return words.table_board(tryout.plan, found, names, said)

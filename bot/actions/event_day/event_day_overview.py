"""The coach's page of the event day."""

from datetime import datetime

from bot.actions.core.dispatch import view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.event_day.day_windows import day_dates
from bot.rules.event_day.event_day_overview import left_out
from bot.rules.event_day.may_arrange import check_runs
from bot.rules.event_day.own_times import is_told
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import event_day_overview as words
from bot.words.event_day.day_board import board_lines
from storage.records.message import Answer, Message, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import day_draw, squads
from storage.tables.sql_session import Snapshot


@view(DayKey.DAY_PANEL, "coach")
async def panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show how far the event day is."""
    return Replace(message=await panel_of(db, tryout, request.at))


async def panel_of(db: Snapshot, tryout: Tryout, now: datetime, said: str = "") -> Message:
    """The page as it is now."""
    check_runs(tryout)
    of_plan = tryout.plan.event_day
    if of_plan is None:
        return words.no_plan()
    found, draw = await running_day(db, tryout, now), await day_draw.draw(db, tryout.id)
    taking_part = await squads.squads(db, tryout.id)
    nowhere = [squad.name for squad in left_out(taking_part, found.slots)]
    names = {squad.id: squad for squad in taking_part}
    board = [*(board_lines(tryout.plan, found, names) if is_told(draw) else ()), *([f"\n{said}"] if said else ())]
    dates = day_dates(tryout.plan, schedule_of(tryout))
    return words.panel(of_plan, dates, draw, len(found.slots), nowhere, board)

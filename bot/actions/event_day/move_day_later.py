"""The coach moves everything that is still to come on the event day so much later."""

from datetime import timedelta

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act
from bot.actions.event_day.event_day_overview import panel_of
from bot.actions.event_day.moved_times import check_as_shown, move_slots
from bot.actions.event_day.own_times import is_told
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.event_day.may_arrange import check_runs
from bot.rules.event_day.move_day_later import moved_later, read_minutes
from bot.rules.event_day.timetable import check_made
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import move_day_later as words
from bot.words.event_day.moved_times import told
from storage.records.message import Answer, Open, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Transaction


@act(DayKey.DAY_LATER, "coach")
async def later(db: Transaction, tryout: Tryout, request: Request, typed: str = "", stamp: str = "") -> Answer:
    """Move all that is still to come on the day, if nobody else has meanwhile; without minutes, ask for them."""
    check_runs(tryout)
    found = await running_day(db, tryout, request.at)
    check_made(found.slots)
    if not typed:
        return Open(form=words.later_form(found))
    minutes = read_minutes(request.field("minutes"))
    check_as_shown(found, stamp)
    moved = await move_slots(db, tryout, moved_later(found, timedelta(minutes=minutes)), request.at)
    await audit(db, tryout, request, "day.later", minutes=minutes)
    said = told(len(moved), await is_told(db, tryout))
    return Replace(message=await panel_of(db, tryout, request.at, said))

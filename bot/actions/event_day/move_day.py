"""The event day moves: later by as many minutes as the coach says, or to other dates with the plan."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.event_day.event_day_overview import panel_of
from bot.actions.event_day.moved_times import check_as_shown, move_slots
from bot.actions.event_day.own_times import is_told
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.event_day.day_windows import day_dates
from bot.rules.event_day.may_arrange import check_runs
from bot.rules.event_day.move_day import asks_for_a_new_timetable, moved_later, on_other_days, read_minutes
from bot.rules.event_day.timetable import check_made
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import move_day as words
from bot.words.event_day.moved_times import told
from storage.records.message import Answer, Open, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import day_timetable, outbox
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


async def fit_day(db: Transaction, before: Tryout, tryout: Tryout, now: datetime) -> None:
    """After a change of the plan: what lay on a day that has moved moves with it, by the clock on the wall."""
    old, new = before.plan.event_day, tryout.plan.event_day
    if old is None or new is None or not await day_timetable.slots(db, tryout.id):
        return
    dates, others = day_dates(before.plan, schedule_of(before)), day_dates(tryout.plan, schedule_of(tryout))
    moved = on_other_days(await running_day(db, tryout, now), dates, others, ZoneInfo(tryout.plan.zone))
    if moved:
        await move_slots(db, tryout, moved, now)
    if asks_for_a_new_timetable(old, new):
        await outbox.enqueue(db, tryout.id, "office", words.made_anew(), now)

"""The plan changes under a timetable: what lay on a day that has moved moves with it, and the office is told."""

from datetime import datetime
from zoneinfo import ZoneInfo

from bot.actions.core.schedule_cache import schedule_of
from bot.actions.event_day.moved_times import move_slots
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.event_day import day_plan_changed as rules
from bot.rules.event_day.day_windows import day_dates
from bot.words.event_day import day_plan_changed as words
from storage.records.tryout import Tryout
from storage.tables import day_timetable, outbox
from storage.tables.sql_session import Transaction


async def fit_day(db: Transaction, before: Tryout, tryout: Tryout, now: datetime) -> None:
    """After a change of the plan: what lay on a day that has moved moves with it, by the clock on the wall."""
    old, new = before.plan.event_day, tryout.plan.event_day
    if old is None or new is None or not await day_timetable.slots(db, tryout.id):
        return
    dates, others = day_dates(before.plan, schedule_of(before)), day_dates(tryout.plan, schedule_of(tryout))
    moved = rules.on_other_days(await running_day(db, tryout, now), dates, others, ZoneInfo(tryout.plan.zone))
    if moved:
        await move_slots(db, tryout, moved, now)
    if rules.asks_for_a_new_timetable(old, new):
        await outbox.enqueue(db, tryout.id, "office", words.made_anew(), now)

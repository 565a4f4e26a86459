"""Times that move on the event day: they are kept, and those concerned are told, and nobody else."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from bot.actions.event_day.call_up import plan_calls
from bot.actions.event_day.own_times import is_told, reached
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.call_up import called_anew
from bot.rules.event_day.moved_times import earlier_slots, moved_judges, moved_squads, told_slots
from bot.rules.event_day.running_day import RunningDay
from bot.words.event_day import moved_times as words
from bot.words.event_day.moved_times import timetable_stamp
from storage.records.event_day import DaySlot
from storage.records.tryout import Tryout
from storage.tables import day_timetable, live_messages, outbox
from storage.tables.sql_session import Transaction


def check_as_shown(day: RunningDay, stamp: str) -> None:
    """Two coaches who see that the day is late move it once, or a Refusal: `day_moved`."""
    if stamp != timetable_stamp(day):
        raise Refusal(DayReason.DAY_MOVED)


async def move_slots(db: Transaction, tryout: Tryout, moved: Iterable[DaySlot], now: datetime) -> set[int]:
    """Keep other times, and tell those concerned and nobody else; returns the squads whose times have changed."""
    before = await day_timetable.slots(db, tryout.id)
    for slot in moved:
        await day_timetable.move(db, called_anew(slot))
    return await tell_moved(db, tryout, before, now)


async def tell_moved(db: Transaction, tryout: Tryout, before: Sequence[DaySlot], now: datetime) -> set[int]:
    """Tell squads and judges whose times are others than before; nobody while the timetable is not told yet."""
    found = await running_day(db, tryout, now)
    concerned = moved_squads(before, found.slots) & found.sections.keys()
    if not await is_told(db, tryout):
        return concerned
    earlier = earlier_slots(found, before)
    for squad in sorted(concerned):
        mine = told_slots(found, squad)
        await outbox.enqueue(db, tryout.id, f"squad/{squad}", words.moved(tryout.plan, found, mine, earlier), now)
        await live_messages.mark_stale(db, tryout.id, f"day/{squad}")
    for judge in sorted(moved_judges(before, found.slots) & await reached(db, tryout)):
        await outbox.enqueue(db, tryout.id, f"judge/{judge}", words.judge_moved(), now)
    await live_messages.mark_stale(db, tryout.id, "day-judge/*")
    await live_messages.mark_stale(db, tryout.id, "day-board")
    await plan_calls(db, tryout, now)
    return concerned

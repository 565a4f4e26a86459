"""Interviews when it changes who judges: a judge joins where that is possible, else the office names who has none."""

from collections import defaultdict
from datetime import datetime, timedelta

from bot.actions.core.followers import when_judges_change
from bot.actions.core.live_messages import live_message
from bot.actions.event_day.interview_judges import judges_of
from bot.actions.event_day.moved_times import tell_moved
from bot.actions.event_day.own_times import is_told, place_judges
from bot.rules.core.refusal import Refusal
from bot.rules.event_day.late_judge_interviews import Fitted, fit_judges, may_fit, wanted_in
from bot.words.event_day import late_judge_interviews as words
from storage.records.message import Message
from storage.records.tryout import Tryout
from storage.tables import absences, day_timetable, judges, live_messages, squads
from storage.tables.sql_session import Snapshot, Transaction

LEFT = "day-interviews"


async def _fitted(db: Snapshot, tryout: Tryout, now: datetime) -> Fitted | None:
    """What becomes of the interviews; None where there is no timetable, or the panels are not settled."""
    of_plan = tryout.plan.event_day
    if of_plan is None or not may_fit(of_plan, tryout.state):
        return None
    slots = await day_timetable.slots(db, tryout.id)
    away = {(one.squad_id, one.event) for one in await absences.absences(db, tryout.id)}
    wanted = {}
    try:
        for event in tryout.plan.events:
            panel = await judges_of(db, tryout, event)
            if panel:
                wanted[event.key] = wanted_in(event.key, panel, away)
    except Refusal:
        return None
    return fit_judges(slots, wanted, timedelta(minutes=of_plan.change_minutes), now) if slots else None


@when_judges_change
async def fit_interviews(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Let judges join interviews, or leave them, at the times as they are; the office names who has none."""
    fitted = await _fitted(db, tryout, now)
    if fitted is None:
        return
    before = await day_timetable.slots(db, tryout.id)
    for slot in fitted.changed:
        await day_timetable.seat_judges(db, slot.id, slot.judges)
    if await is_told(db, tryout):
        await place_judges(db, tryout)
        await tell_moved(db, tryout, before, now)
    if fitted.left:
        await live_messages.place(db, tryout.id, LEFT, "office")
    await live_messages.mark_stale(db, tryout.id, LEFT)


@live_message(LEFT)
async def judges_left(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The judges without an interview, in the office; gone when there are none."""
    fitted = await _fitted(db, tryout, tryout.created_at)
    if fitted is None or not fitted.left:
        return None
    names = {judge.id: judge.name for judge in await judges.judges(db, tryout.id)}
    of = {squad.id: f"{squad.number} {squad.name}" for squad in await squads.squads(db, tryout.id)}
    left: dict[str, list[str]] = defaultdict(list)
    for judge, squad in fitted.left:
        left[names[judge]].append(of[squad])
    return words.without_interview(left)

"""What the coach moves on the event day: everything so much later, or two squads with each other's time."""

from datetime import timedelta

from bot.actions.core.arguments import given
from bot.actions.core.dispatch import act, audit, view
from bot.actions.event_day.call_up import call_up
from bot.actions.event_day.event_day_overview import panel_of
from bot.actions.event_day.own_times import check_runs, move_slots
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.core.refusal import Refusal
from bot.rules.event_day.day_change_limits import LATEST
from bot.rules.event_day.running_order import ONE_DAY, RunningDay
from bot.words.core.day_keys import DayKey
from bot.words.event_day import day_changes as words
from storage.records.message import Answer, Message, Open, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot, Transaction


@act(DayKey.DAY_LATER, "coach")
async def later(db: Transaction, tryout: Tryout, request: Request, typed: str = "", stamp: str = "") -> Answer:
    """Move all that is still to come on the day, if nobody else has meanwhile; without minutes, ask for them."""
    check_runs(tryout)
    found = await running_day(db, tryout, request.at)
    if not found.slots:
        raise Refusal(DayReason.NO_TIMETABLE)
    if not typed:
        return Open(form=words.later_form(found))
    minutes = request.field("minutes").strip()
    if not (minutes.isdecimal() and len(minutes) <= len(str(LATEST)) and 1 <= int(minutes) <= LATEST):
        raise Refusal(DayReason.LATER_MINUTES, typed=minutes, most=LATEST)
    _check_as_shown(found, stamp)
    told = await move_slots(db, tryout, found.later(timedelta(minutes=int(minutes))), request.at)
    await audit(db, tryout, request, "day.later", minutes=int(minutes))
    return Replace(message=await _panel(db, tryout, request, len(told)))


@view(DayKey.DAY_SLOT, "coach")
async def one_slot(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    slot_id: int | None = None,
    page: int = 0,
    *,
    picked: int | None = None,
) -> Answer:
    """Show one run or interview, and with which it could swap."""
    check_runs(tryout)
    found = await running_day(db, tryout, request.at)
    slot = found.slot(given(picked, slot_id))
    others = [
        one
        for one in found.slots
        if one.kind == slot.kind
        and one.id != slot.id
        and one.squad_id != slot.squad_id
        and not found.is_over(one)
        and abs(one.begins_at - slot.begins_at) < ONE_DAY
    ]
    others.sort(key=lambda one: abs(one.begins_at - slot.begins_at))
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    return Replace(message=words.one_slot(tryout.plan, found, slot, names, others, page))


@act(DayKey.DAY_SWAP, "coach")
async def swap(
    db: Transaction, tryout: Tryout, request: Request, slot_id: int, stamp: str = "", *, picked: int
) -> Answer:
    """Let two squads have each other's time, if nobody has moved anything since they were shown."""
    check_runs(tryout)
    found = await running_day(db, tryout, request.at)
    _check_as_shown(found, stamp)
    moved = found.swapped(found.slot(slot_id), found.slot(picked))
    told = await move_slots(db, tryout, moved, request.at)
    await audit(db, tryout, request, "day.swap", one=slot_id, other=picked)
    await call_up(db, tryout, request.at)
    return Replace(message=await _panel(db, tryout, request, len(told)))


def _check_as_shown(day: RunningDay, stamp: str) -> None:
    """Two coaches who see that the day is late move it once, or a Refusal: `day_moved`."""
    if stamp != words.stamp_of(day):
        raise Refusal(DayReason.DAY_MOVED)


async def _panel(db: Snapshot, tryout: Tryout, request: Request, told: int) -> Message:
    return await panel_of(db, tryout, request.at, words.told(told))

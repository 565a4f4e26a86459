"""The coach lets two squads have each other's time on the event day."""

from bot.actions.core.arguments import given
from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.event_day.call_up import call_up
from bot.actions.event_day.event_day_overview import panel_of
from bot.actions.event_day.moved_times import check_as_shown, move_slots
from bot.actions.event_day.own_times import is_told
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.event_day.may_arrange import check_runs
from bot.rules.event_day.swap_times import swappable, swapped
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import swap_times as words
from bot.words.event_day.moved_times import told
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot, Transaction


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
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    return Replace(message=words.one_slot(tryout.plan, found, slot, names, swappable(found, slot), page))


@act(DayKey.DAY_SWAP, "coach")
async def swap(
    db: Transaction, tryout: Tryout, request: Request, slot_id: int, stamp: str = "", *, picked: int
) -> Answer:
    """Let two squads have each other's time, if nobody has moved anything since they were shown."""
    check_runs(tryout)
    found = await running_day(db, tryout, request.at)
    check_as_shown(found, stamp)
    moved = await move_slots(db, tryout, swapped(found, found.slot(slot_id), found.slot(picked)), request.at)
    await audit(db, tryout, request, "day.swap", one=slot_id, other=picked)
    await call_up(db, tryout, request.at)
    said = told(len(moved), await is_told(db, tryout))
    return Replace(message=await panel_of(db, tryout, request.at, said))

"""The timetable: made beside the event loop and outside the write lock, looked at, and told to those concerned."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.event_day.call_up import plan_calls
from bot.actions.event_day.day_board import place_board
from bot.actions.event_day.event_day_overview import panel_of
from bot.actions.event_day.interview_judges import judges_of
from bot.actions.event_day.late_judge_interviews import LEFT
from bot.actions.event_day.moved_times import tell_moved
from bot.actions.event_day.own_times import is_told, place_messages
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.day_draw import order_of
from bot.rules.event_day.day_windows import day_dates
from bot.rules.event_day.may_arrange import check_runs, plan_of
from bot.rules.event_day.timetable import Activity, Day, Slot, check_made, make_timetable
from bot.rules.event_day.timetable_contents import activities, check_unchanged, kept_slots, windows
from bot.rules.event_day.why_no_timetable import Binding, bindings
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import timetable as words
from bot.words.event_day.why_no_timetable import impossible
from storage.records.event_day import DaySlot
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import day_draw, day_timetable, judges, live_messages, squads
from storage.tables.sql_session import Snapshot, Transaction


@dataclass(frozen=True)
class Made:
    """A timetable that was worked out, or why there is none."""

    problem: Day
    kept: tuple[DaySlot, ...]
    """What is over already and stays."""
    slots: tuple[Slot, ...] | None
    binding: tuple[Binding, ...] = ()


def _work(problem: Day, kept: tuple[DaySlot, ...]) -> Made:
    slots = make_timetable(problem)
    return Made(problem, kept, slots, bindings(problem) if slots is None else ())


async def prepare(db: Snapshot, tryout: Tryout, request: Request) -> Work[Made]:
    """Read what a timetable is made from."""
    check_runs(tryout)
    return partial(_work, *await _problem(db, tryout, request.at))


@act(DayKey.DAY_MAKE, "coach", before=prepare)
async def make(db: Transaction, tryout: Tryout, request: Request, *, prepared: Made) -> Answer:
    """Keep the timetable that was worked out; squads that have read another one are told what changed for them."""
    check_runs(tryout)
    names = {squad.id: squad.name for squad in await squads.squads(db, tryout.id)}
    if prepared.slots is None:
        panel = {judge.id: judge.name for judge in await judges.judges(db, tryout.id)}
        return Replace(message=impossible(prepared.binding, names, panel))
    problem, kept = await _problem(db, tryout, request.at)
    check_unchanged(prepared.problem, prepared.kept, problem, kept)
    before = await day_timetable.slots(db, tryout.id)
    await day_timetable.replace_slots(db, tryout.id, [*kept, *map(_record, prepared.slots)])
    await audit(db, tryout, request, "day.make", slots=len(prepared.slots))
    await live_messages.mark_stale(db, tryout.id, LEFT)
    if await is_told(db, tryout):
        await place_messages(db, tryout)
        await place_board(db, tryout)
        await tell_moved(db, tryout, before, request.at)
    return Replace(message=await panel_of(db, tryout, request.at))


@view(DayKey.DAY_PAGE, "coach")
async def page(db: Snapshot, tryout: Tryout, request: Request, number: int) -> Answer:
    """Look at the timetable."""
    found = await running_day(db, tryout, request.at)
    check_made(found.slots)
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    panel = {judge.id: judge.name for judge in await judges.judges(db, tryout.id)}
    return Replace(message=words.page(tryout.plan, found, names, panel, number))


@view(DayKey.DAY_ASK_TELL, "coach")
async def ask_tell(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before everyone reads their times."""
    check_runs(tryout)
    slots = await day_timetable.slots(db, tryout.id)
    check_made(slots)
    concerned = {judge for slot in slots for judge in slot.judges}
    return Replace(message=words.sure_to_tell(len({slot.squad_id for slot in slots}), len(concerned)))


@act(DayKey.DAY_TELL, "coach")
async def tell(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Squads and judges read their times from now on."""
    check_runs(tryout)
    check_made(await day_timetable.slots(db, tryout.id))
    if not await is_told(db, tryout):
        await day_timetable.told(db, tryout.id, request.at)
        await place_messages(db, tryout)
        await place_board(db, tryout)
        await plan_calls(db, tryout, request.at)
        await audit(db, tryout, request, "day.tell")
    return Replace(message=await panel_of(db, tryout, request.at))


def _record(slot: Slot) -> DaySlot:
    activity = slot.activity
    return DaySlot(
        id=0,
        squad_id=activity.squad,
        kind=activity.kind,
        event=activity.event,
        number=activity.number,
        table_number=slot.table,
        judges=activity.judges,
        begins_at=slot.begins,
        ends_at=slot.ends,
    )


async def _problem(db: Snapshot, tryout: Tryout, now: datetime) -> tuple[Day, tuple[DaySlot, ...]]:
    """What is still to be given a time, and what is over; Refusal `no_event_day`, `day_draw_first`."""
    of_plan, draw = plan_of(tryout), await day_draw.draw(db, tryout.id)
    if draw is None or draw.key is None:
        raise Refusal(DayReason.DAY_DRAW_FIRST)
    taking_part = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    order = order_of(draw, tuple(taking_part))
    found = await running_day(db, tryout, now)
    found_activities: list[Activity] = []
    for event in tryout.plan.events:
        met = await judges_of(db, tryout, event) if of_plan.interview_minutes else {}
        found_activities += activities(found, order, event, met)
    free = windows(tryout.plan, day_dates(tryout.plan, schedule_of(tryout)), taking_part.values(), now)
    minutes = [timedelta(minutes=n) for n in (of_plan.run_minutes, of_plan.interview_minutes, of_plan.change_minutes)]
    return Day(order, tuple(found_activities), free, of_plan.tables, *minutes), kept_slots(found)

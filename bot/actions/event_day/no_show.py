"""A squad that is not there for its run: the first time it comes last of its section, then the coach decides."""

from datetime import timedelta

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.event_day.call_up import call_up
from bot.actions.event_day.day_board import board_now
from bot.actions.event_day.moved_times import move_slots
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.event_day.may_arrange import check_runs, plan_of
from bot.rules.event_day.no_show import (
    after_everybody,
    check_its_time,
    coach_decides,
    noted_already,
    to_the_end,
    waits_for_coach,
)
from bot.rules.event_day.running_day import run_measures
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import no_show as words
from bot.words.event_day.slot_name import event_of
from storage.records.event_day import DaySlot
from storage.records.message import Answer, Replace, Say
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import day_timetable, outbox, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(DayKey.DAY_ASK_MISSED, "scorekeeper")
async def ask_missed(db: Snapshot, tryout: Tryout, request: Request, slot_id: int) -> Answer:
    """Ask once before a squad that is not there loses its place; Refusal `not_its_time`."""
    check_runs(tryout)
    found = await running_day(db, tryout, request.at)
    slot = found.slot(slot_id)
    check_its_time(slot, request.at)
    return Replace(message=words.sure_missed(await _squad(db, slot), slot, coach_decides(slot)))


@act(DayKey.DAY_MISSED, "scorekeeper")
async def missed(db: Transaction, tryout: Tryout, request: Request, slot_id: int, before: int | None = None) -> Answer:
    """A squad is not there: the first time it comes last of its section, then the coach decides.

    `before` is how often it had not been there when the button was shown: pressed on an old board, nothing happens.
    """
    check_runs(tryout)
    found = await running_day(db, tryout, request.at)
    slot = found.slot(slot_id)
    if noted_already(slot, before):
        return Replace(message=await board_now(db, tryout, request))
    check_its_time(slot, request.at)
    squad = await _squad(db, slot)
    await audit(db, tryout, request, "day.missed", squad=squad.id, slot=slot_id, before=slot.misses)
    event = event_of(tryout.plan, slot)
    name = event.name if event else slot.event
    if coach_decides(slot) and not found.is_over(slot):
        await day_timetable.close(db, slot_id, request.at)
        measures = run_measures(event) if event else []
        if event and measures:
            about = f"{event.key}.{measures[0].key}"
            told = words.to_the_coach(squad, slot, event.name, about)
            await outbox.enqueue(db, tryout.id, "office", told, request.at)
        mine = words.see_your_coach(name, await squads.members(db, squad.id))
        await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", mine, request.at)
        said = words.coach_decides(squad)
    else:
        await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", words.comes_later(name), request.at)
        await move_slots(db, tryout, to_the_end(found, slot), request.at)
        said = words.went_to_the_end(squad, (await running_day(db, tryout, request.at)).slot(slot_id))
    await call_up(db, tryout, request.at)
    return Replace(message=await board_now(db, tryout, request, said))


@act(DayKey.DAY_CLOSED, "coach")
async def run_at_the_end(db: Transaction, tryout: Tryout, request: Request, slot_id: int) -> Answer:
    """The coach lets a squad that was not there twice run after everybody else at its table."""
    check_runs(tryout)
    found = await running_day(db, tryout, request.at)
    slot = found.slot(slot_id)
    if not waits_for_coach(slot):
        squad = await _squad(db, slot)
        return Say(message=await board_now(db, tryout, request, words.decided_already(squad)))
    last = after_everybody(found, slot, timedelta(minutes=plan_of(tryout).run_minutes))
    await day_timetable.close(db, slot_id, None)
    await move_slots(db, tryout, [last], request.at)
    await audit(db, tryout, request, "day.at-the-end", squad=slot.squad_id, slot=slot_id)
    await call_up(db, tryout, request.at)
    return Say(message=await board_now(db, tryout, request))


async def _squad(db: Snapshot, slot: DaySlot) -> Squad:
    squad = await squads.squad(db, slot.squad_id)
    if squad is None:
        raise Refusal(Reason.SQUAD_GONE)
    return squad

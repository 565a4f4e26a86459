"""The table: pick a measure, pick a squad, see what stands; and who did not take part."""

from bot.actions.core.arguments import given
from bot.actions.core.dispatch import view
from bot.actions.scorekeeping.attempts import may_run_off
from bot.actions.scorekeeping.may_record import is_settled
from bot.actions.scorekeeping.may_start import attendance_of
from bot.actions.scorekeeping.next_squad import next_squad
from bot.actions.scorekeeping.recorded_so_far import measure_of, measures_shown, spot_of, spots
from bot.actions.scorekeeping.running_stopwatches_and_pads import still_running
from bot.actions.scorekeeping.timetable_at_table import has_timetable
from bot.rules.event_day.presence_and_equipment import is_to_tick
from bot.rules.scorekeeping.attempts import run_off_comes_into_question
from bot.rules.scorekeeping.may_record import check_begun
from bot.rules.scorekeeping.score_table import leads_on, opens_at_once
from bot.rules.scoring.measures import attempts_allowed
from bot.words.core.action_keys import ActionKey
from bot.words.event_day.presence_and_equipment import here_line
from bot.words.scorekeeping import score_table as words
from storage.records.message import Answer, Message, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@view(ActionKey.TABLE_PANEL, "scorekeeper")
async def score_table_panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the table."""
    return Say(message=await _measures(db, tryout, request, 0))


@view(ActionKey.TABLE_MEASURES, "scorekeeper")
async def measures(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Go back to the measures, or to another page of them."""
    return Replace(message=await _measures(db, tryout, request, page))


async def _measures(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Message:
    check_begun(tryout)
    found = await measures_shown(db, tryout)
    running = [] if tryout.result_stands else await still_running(db, tryout, request.at)
    if opens_at_once(len(found), len(running)):
        return await _squads(db, tryout, words.measure_value(*found[0]), 0)
    done = []
    for event, measure in found:
        lines = [one.line for one in await spots(db, tryout, words.measure_value(event, measure))]
        done.append(words.done_line(lines, attempts_allowed(measure)))
    return words.measures(found, done, page, running, await has_timetable(db, tryout))


@view(ActionKey.TABLE_MEASURE, "scorekeeper")
async def pick_measure(db: Snapshot, tryout: Tryout, request: Request, *, picked: str) -> Answer:
    """Show the squads of the picked measure."""
    return Replace(message=await _squads(db, tryout, picked, 0))


@view(ActionKey.TABLE_SQUADS, "scorekeeper")
async def pick_page(db: Snapshot, tryout: Tryout, request: Request, page: int, about: str) -> Answer:
    """Another page of the squads of a measure."""
    return Replace(message=await _squads(db, tryout, about, page))


async def _squads(db: Snapshot, tryout: Tryout, about: str, page: int) -> Message:
    check_begun(tryout)
    event, measure = await measure_of(db, tryout, about)
    lines = [spot.line for spot in await spots(db, tryout, about)]
    several = len(await measures_shown(db, tryout)) > 1
    day = await has_timetable(db, tryout, event.key)
    return words.squads(event, measure, lines, attempts_allowed(measure), page, several, day)


@view(ActionKey.TABLE_SQUAD, "scorekeeper")
async def pick_squad(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    about: str,
    squad_id: int | None = None,
    *,
    picked: int | None = None,
) -> Answer:
    """Show one squad at one measure."""
    return Replace(message=await squad_page(db, tryout, about, given(squad_id, picked)))


async def squad_page(db: Snapshot, tryout: Tryout, about: str, squad_id: int) -> Message:
    """One squad at one measure: what stands, and what can be done."""
    check_begun(tryout)
    spot = await spot_of(db, tryout, about, squad_id)
    attendance = await attendance_of(db, squad_id, spot.event.key)
    here = here_line(spot.event, attendance)
    if tryout.result_stands:
        turn = words.Turn(closed=True, here=here)
        return words.squad_page(spot.event, spot.measure, spot.line, spot.run_offs, turn)
    asks = run_off_comes_into_question(len(spot.attempts), spot.allowed, spot.measure)
    tied = asks and await may_run_off(db, tryout, spot.squad)
    after, _ = await next_squad(db, tryout, about, spot.event.key, squad_id)
    after = after if leads_on(after.id if after else None, squad_id) else None
    to_tick = is_to_tick(spot.event, attendance)
    settled = await is_settled(db, tryout, spot)
    turn = words.Turn(spot.allowed, after, tied, here=here, to_tick=to_tick, settled=settled)
    return words.squad_page(spot.event, spot.measure, spot.line, spot.run_offs, turn)

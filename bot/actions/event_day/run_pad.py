"""The run pad: a counted run tapped in while it lasts. Each tap is kept before it is answered."""

from datetime import datetime
from typing import Literal

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.followers import when_unanswered
from bot.actions.scorekeeping.attempts import attempt_of, next_attempt, save_attempt
from bot.actions.scorekeeping.may_start import attendance_of, check_may_start_now
from bot.actions.scorekeeping.recorded_so_far import Spot, measure_of
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.event_day import run_pad as rules
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import run_pad as words
from bot.words.event_day.presence_and_equipment import here_line
from bot.words.event_day.run_pad import Pad
from bot.words.scorekeeping.attempts import number_code
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.run_pads_and_stopwatches import PadRun
from storage.records.tryout import Tryout
from storage.tables import run_pads, squads
from storage.tables.sql_session import Snapshot, Transaction


@act(DayKey.PAD_OPEN, "scorekeeper")
async def open_pad(db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int, code: str) -> Answer:
    """Open the pad of an attempt; whoever opens it second gets the same one."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    rules.check_counts(spot.measure)
    where = (squad_id, spot.event.key, spot.measure.key, number, run_off)
    run = await run_pads.open_run(db, *where)
    run_id = run.id if run else await run_pads.begin(db, *where, request.at)
    return await _shown(db, tryout, request, run_id)


@view(DayKey.PAD_LOOK, "scorekeeper")
async def look(db: Snapshot, tryout: Tryout, request: Request, run_id: int) -> Answer:
    """The pad as it is now."""
    return await _shown(db, tryout, request, run_id)


@act(DayKey.PAD_START, "scorekeeper")
async def start(db: Transaction, tryout: Tryout, request: Request, run_id: int) -> Answer:
    """The clock starts at this press; pressed twice, at the first."""
    found = await _pad(db, tryout, run_id)
    if found.run.started_at is not None:
        return await _shown(db, tryout, request, run_id, words.STARTED_BEFORE)
    await _still_next(db, tryout, found)
    about = f"{found.event.key}.{found.measure.key}"
    await check_may_start_now(db, tryout, request, found.event, found.squad, about, run_id)
    await run_pads.start(db, run_id, request.at)
    await audit(db, tryout, request, "pad.start", squad=found.squad.id, run=run_id)
    return await _shown(db, tryout, request, run_id)


@act(DayKey.PAD_TAP, "scorekeeper")
async def tap(
    db: Transaction, tryout: Tryout, request: Request, run_id: int, item_key: str, way: Literal["more", "less"]
) -> Answer:
    """One more or one less of an item."""
    found = await _pad(db, tryout, run_id)
    item = next((one for one in found.measure.items if one.key == item_key), None)
    if item is None:
        raise Refusal(TableReason.PLAN_MOVED)
    if rules.none_left(way, found.totals[item_key]):
        return await _shown(db, tryout, request, run_id, words.NONE_LEFT)
    await run_pads.tap(db, run_id, item_key, 1 if way == "more" else -1, request.who, request.at)
    many = rules.more_than_there_are(item, way, found.totals[item_key])
    return await _shown(db, tryout, request, run_id, words.most_note(item) if many else "")


@act(DayKey.PAD_UNDO, "scorekeeper")
async def undo(db: Transaction, tryout: Tryout, request: Request, run_id: int) -> Answer:
    """Undo the last tap of whoever presses; taps of others stay."""
    await _pad(db, tryout, run_id)
    last = rules.last_of(await run_pads.taps(db, run_id), request.who)
    if last is None:
        raise Refusal(DayReason.PAD_NOTHING)
    await run_pads.undo_tap(db, last.id, request.at)
    return await _shown(db, tryout, request, run_id)


@when_unanswered(DayKey.PAD_TAP, DayKey.PAD_UNDO)
async def not_seen(db: Transaction, who: int, at: datetime) -> None:
    """A tap was kept, and the phone may have said that it failed: the pad says so."""
    await run_pads.not_seen(db, who, at)


@view(DayKey.PAD_FINISH, "scorekeeper")
async def finish(db: Snapshot, tryout: Tryout, request: Request, run_id: int) -> Answer:
    """Read the count back, to be counted aloud."""
    return await _read_back(db, tryout, request, await _pad(db, tryout, run_id))


@act(DayKey.PAD_AGREED, "scorekeeper")
async def agreed(db: Transaction, tryout: Tryout, request: Request, run_id: int, counts: str) -> Answer:
    """Counted aloud and agreed: the count becomes the attempt, unless somebody has tapped since it was read back."""
    found = await _pad(db, tryout, run_id)
    if counts != _counts(found):
        return await _shown(db, tryout, request, run_id, words.MOVED)
    spot, number, run_off = await _still_next(db, tryout, found)
    values = (counts, rules.NO_POINTS_OFF)
    message = await save_attempt(db, tryout, request, spot, number, run_off, values, run=run_id, agreed=True)
    return Replace(message=message)


@view(DayKey.PAD_ASK_RERUN, "scorekeeper")
async def ask_rerun(db: Snapshot, tryout: Tryout, request: Request, run_id: int) -> Answer:
    """Ask once before a run is given again."""
    return Replace(message=words.sure_to_rerun(await _pad(db, tryout, run_id)))


@act(DayKey.PAD_RERUN, "scorekeeper")
async def rerun(db: Transaction, tryout: Tryout, request: Request, run_id: int) -> Answer:
    """The run was interrupted by something of ours: it counts nothing, and a new one is open."""
    found = await _pad(db, tryout, run_id)
    await run_pads.interrupt(db, run_id, request.at)
    await audit(db, tryout, request, "pad.interrupted", squad=found.squad.id, run=run_id)
    run = found.run
    new = await run_pads.begin(db, run.squad_id, run.event, run.measure, run.number, run.run_off, request.at)
    return await _shown(db, tryout, request, new, words.RERUN)


async def _pad(db: Snapshot, tryout: Tryout, run_id: int) -> Pad:
    """An open run of this try-out with what it shows; Refusal `pad_closed`, `no_measure`."""
    run = await run_pads.run(db, run_id)
    squad = await squads.squad(db, run.squad_id) if run else None
    if run is None or squad is None or squad.tryout_id != tryout.id:
        raise Refusal(Reason.OUT_OF_DATE)
    rules.check_open(run, squad.withdrawn)
    event, found = await measure_of(db, tryout, f"{run.event}.{run.measure}")
    measure = rules.check_counts(found)
    taps = await run_pads.taps(db, run_id)
    return Pad(
        squad=squad,
        event=event,
        measure=measure,
        run=run,
        totals=rules.totals(measure, taps),
        ends=rules.ends_at(measure, run),
        after_end=rules.after_end(measure, run, taps),
        unseen=rules.unseen(taps),
        counting=rules.people_counting(taps),
        here=here_line(event, await attendance_of(db, squad.id, event.key)),
    )


async def _shown(db: Snapshot, tryout: Tryout, request: Request, run_id: int, note: str = "") -> Answer:
    return Replace(message=words.pad(await _pad(db, tryout, run_id), request.at, note))


async def _still_next(db: Snapshot, tryout: Tryout, found: Pad) -> tuple[Spot, int, bool]:
    run: PadRun = found.run
    return await next_attempt(
        db, tryout, f"{run.event}.{run.measure}", run.squad_id, number_code(run.number, run.run_off)
    )


def _counts(found: Pad) -> str:
    """The counts in the plan's order, as a key carries them."""
    return ",".join(str(found.totals[item.key]) for item in found.measure.items)


async def _read_back(db: Snapshot, tryout: Tryout, request: Request, found: Pad) -> Answer:
    spot, number, run_off = await _still_next(db, tryout, found)
    values = (_counts(found), rules.NO_POINTS_OFF)
    attempt = await attempt_of(db, request, spot, number, run_off, values)
    return Replace(message=words.finished(found, attempt, values))

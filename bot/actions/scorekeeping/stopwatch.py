"""A stopwatch of two presses: elapsed is the difference of their own times, free of the bot's delay."""

from datetime import UTC, datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.scorekeeping.attempts import next_attempt, read_back
from bot.actions.scorekeeping.may_start import check_may_start_now
from bot.actions.scorekeeping.running_stopwatches_and_pads import milliseconds, planning_since, running_since
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.scorekeeping.attempt_entry import NOT_TAKEN
from bot.rules.scorekeeping.stopwatch import check_time, elapsed, first_press
from bot.words.core.action_keys import ActionKey
from bot.words.scorekeeping import stopwatch as words
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import stopwatches
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.TABLE_READY, "scorekeeper")
async def ready(db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int, code: str) -> Answer:
    """Show the safety lines before the clock can be started."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    measure = check_time(spot.measure)
    planning = await planning_since(db, about, squad_id, code)
    return Replace(message=words.ready(spot.squad, spot.event, measure, number, run_off, planning))


@act(ActionKey.TABLE_PLANNING, "scorekeeper")
async def plan_first(db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int, code: str) -> Answer:
    """The time to plan in begins at this press; pressed twice, it began at the first."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    measure = check_time(spot.measure)
    await check_may_start_now(db, tryout, request, spot.event, spot.squad, about)
    before = await planning_since(db, about, squad_id, code)
    since = first_press(before, request.at)
    if since != before:
        await stopwatches.plan_first(db, spot.squad.id, about, code, since)
        await audit(db, tryout, request, "table.planning", squad=spot.squad.id, measure=about, attempt=code)
    return Replace(message=words.ready(spot.squad, spot.event, measure, number, run_off, since))


@act(ActionKey.TABLE_START, "scorekeeper")
async def start(db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int, code: str) -> Answer:
    """The safety lines are confirmed and the clock starts, both at this press; pressed twice, at the first."""
    spot, _, _ = await next_attempt(db, tryout, about, squad_id, code)
    measure = check_time(spot.measure)
    running = await running_since(db, about, squad_id, code)
    since = first_press(running, request.at)
    if since != running:
        await check_may_start_now(db, tryout, request, spot.event, spot.squad, about)
        await stopwatches.start(db, spot.squad.id, about, code, since)
        await audit(db, tryout, request, "table.start", squad=spot.squad.id, measure=about, attempt=code)
    started = milliseconds(since)
    again = running is not None
    return Replace(message=words.running(spot.squad, spot.event, measure, code, started, 0, _instant(started), again))


@view(ActionKey.TABLE_FAULT, "scorekeeper")
async def count_fault(  # noqa: PLR0913, PLR0917
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    about: str,
    squad_id: int,
    code: str,
    started: int,
    faults: int,
    *why: str,
) -> Answer:
    """One fault more or less while the clock runs, or its message again."""
    spot, _, _ = await next_attempt(db, tryout, about, squad_id, code)
    measure = check_time(spot.measure)
    return Replace(message=words.running(spot.squad, spot.event, measure, code, started, faults, _instant(started)))


@view(ActionKey.TABLE_STOP, "scorekeeper")
async def stop(  # noqa: PLR0913, PLR0917
    db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int, code: str, started: int, faults: int
) -> Answer:
    """Read back the time between the two presses."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    check_time(spot.measure)
    seconds = str(elapsed(started, milliseconds(request.at)))
    return Replace(message=await read_back(db, request, spot, number, run_off, (seconds, str(faults), NOT_TAKEN)))


@view(ActionKey.TABLE_UNFINISHED, "scorekeeper")
async def unfinished(  # noqa: PLR0913, PLR0917
    db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int, code: str, started: int, faults: int
) -> Answer:
    """Read back that the squad did not finish."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    check_time(spot.measure)
    return Replace(message=await read_back(db, request, spot, number, run_off, ("dnf", str(faults))))


@act(ActionKey.TABLE_CANCEL, "scorekeeper")
async def cancel(
    db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int, code: str, started: int
) -> Answer:
    """Forget the clock; nothing is recorded."""
    spot, _, _ = await next_attempt(db, tryout, about, squad_id, code)
    await stopwatches.over(db, spot.squad.id, about, code)
    await audit(db, tryout, request, "table.cancel", squad=spot.squad.id, measure=about, attempt=code)
    return Replace(message=words.cancelled(spot.squad, about))


def _instant(started: int) -> datetime:
    """The moment of the first press, from the milliseconds since 1970 in a key; Refusal `out_of_date`."""
    try:
        return datetime.fromtimestamp(started / 1000, UTC)
    except (ValueError, OverflowError, OSError):
        raise Refusal(Reason.OUT_OF_DATE) from None

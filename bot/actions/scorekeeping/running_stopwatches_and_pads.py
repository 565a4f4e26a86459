"""Which stopwatches and run pads still run, and since when; the way back to each from the table."""

from collections.abc import Mapping
from datetime import datetime

from bot.rules.scorekeeping.running_stopwatches_and_pads import in_order, is_forgotten, newest, pad_runs
from bot.words.scorekeeping import running_stopwatches_and_pads as words
from storage.records.message import Row
from storage.records.people import Squad
from storage.records.plan_measures import Time
from storage.records.tryout import Tryout
from storage.tables import run_pads, squads, stopwatches
from storage.tables.sql_session import Snapshot


def milliseconds(at: datetime) -> int:
    """An instant in milliseconds since 1970, as precise as the platform's ids."""
    return round(at.timestamp() * 1000)


async def running_since(db: Snapshot, about: str, squad_id: int, code: str) -> datetime | None:
    """Since when the stopwatch of an attempt runs; None when it does not."""
    found = await stopwatches.stopwatch(db, squad_id, about, code)
    return found.started_at if found else None


async def planning_since(db: Snapshot, about: str, squad_id: int, code: str) -> datetime | None:
    """Since when a squad plans before an attempt; None when it does not."""
    found = await stopwatches.stopwatch(db, squad_id, about, code)
    return found.planning_at if found else None


async def still_running(db: Snapshot, tryout: Tryout, now: datetime) -> list[Row]:
    """A button for each of the newest stopwatches and run pads that still run, in case its message was lost."""
    taking_part = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    runs = [run for run in await run_pads.open_runs(db, tryout.id) if pad_runs(run)]
    pads = [words.resume_pad(taking_part[run.squad_id], run.id) for run in runs]
    return list(newest([*await _clocks(db, tryout, taking_part, now), *((pad,) for pad in pads)]))


async def _clocks(db: Snapshot, tryout: Tryout, taking_part: Mapping[int, Squad], now: datetime) -> list[Row]:
    """A button for each clock that nobody has forgotten, the newest last."""
    timed = {
        f"{event.key}.{measure.key}": (event, measure)
        for event in tryout.plan.events
        for measure in event.measures
        if isinstance(measure, Time)
    }
    rows: list[Row] = []
    running = [(one.started_at, one) for one in await stopwatches.running(db, tryout.id) if one.started_at is not None]
    for since, one in in_order(running):
        event, measure = timed.get(one.measure, (None, None))
        if event is None or measure is None or is_forgotten(measure, since, now):
            continue
        rows.append((words.resume(taking_part[one.squad_id], event, measure, one.attempt, milliseconds(since)),))
    return rows

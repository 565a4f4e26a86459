"""Which stopwatches still run: started in the audit log, and neither saved nor cancelled since."""

from datetime import datetime, timedelta

from bot.rules.core.reasons import Reason
from bot.rules.core.refusal import Refusal
from bot.words.scorekeeping import stopwatch as words
from storage.records.message import Button, Row
from storage.records.plan import Time
from storage.records.tryout import Tryout
from storage.tables import audit_log, squads
from storage.tables.sql_session import Snapshot

LOST_AFTER = timedelta(minutes=30)
"""A clock that ran this much over the limit was forgotten."""


def milliseconds(at: datetime) -> int:
    """An instant in milliseconds since 1970, as precise as the platform's ids."""
    return round(at.timestamp() * 1000)


async def _since(
    db: Snapshot, tryout: Tryout, about: str, squad_id: int, code: str, begun: str, over: tuple[str, ...]
) -> datetime | None:
    """Since when something lasts: when `begun` was noted first after the last note of what ends it."""
    wanted = (squad_id, about, code)
    since: datetime | None = None
    for entry in await audit_log.done(db, tryout.id, begun, *over):
        details = entry.details
        if (details.get("squad"), details.get("measure"), details.get("attempt")) != wanted:
            continue
        if entry.action == begun:
            since = since or entry.at
        elif entry.action in over:
            since = None
    return since


async def running_since(db: Snapshot, tryout: Tryout, about: str, squad_id: int, code: str) -> datetime | None:
    """Since when the stopwatch of an attempt runs; None when it does not."""
    return await _since(db, tryout, about, squad_id, code, "table.start", ("table.save", "table.cancel"))


async def planning_since(db: Snapshot, tryout: Tryout, about: str, squad_id: int, code: str) -> datetime | None:
    """Since when a squad plans before an attempt; None when it does not."""
    over = ("table.start", "table.save", "table.cancel")
    return await _since(db, tryout, about, squad_id, code, "table.planning", over)


async def running_clocks(db: Snapshot, tryout: Tryout, now: datetime) -> list[Row]:
    """A button for each clock that still runs, in case its message was lost; at most three rows of one."""
    open_clocks: dict[tuple[object, object, object], datetime] = {}
    for entry in await audit_log.done(db, tryout.id, "table.start", "table.save", "table.cancel"):
        about = (entry.details.get("squad"), entry.details.get("measure"), entry.details.get("attempt"))
        if entry.action == "table.start":
            open_clocks[about] = entry.at
        else:
            open_clocks.pop(about, None)
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    rows: list[Row] = []
    for (squad_id, measure, code), started in open_clocks.items():
        for event in tryout.plan.events:
            for one in event.measures:
                if f"{event.key}.{one.key}" != measure or not isinstance(one, Time) or squad_id not in names:
                    continue
                if now - started <= timedelta(seconds=float(one.limit)) + LOST_AFTER:
                    button: Button = words.resume(
                        names[int(str(squad_id))], event, one, str(code), milliseconds(started)
                    )
                    rows.append((button,))
    return rows[-3:]


def check_time(measure: object) -> Time:
    """Only a time has a stopwatch; Refusal `no_measure`."""
    if not isinstance(measure, Time):
        raise Refusal(Reason.NO_MEASURE)
    return measure

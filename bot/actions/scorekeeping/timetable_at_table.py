"""The timetable as the table sees it, with what is on record of it."""

from datetime import datetime

from bot.rules.event_day.own_times import is_told
from bot.rules.event_day.running_day import RunningDay, attempts_made, has_runs
from bot.rules.event_day.timetable import in_order
from storage.records.tryout import Tryout
from storage.tables import absences, attempts, day_draw, day_timetable, squads
from storage.tables.sql_session import Snapshot


async def running_day(db: Snapshot, tryout: Tryout, now: datetime) -> RunningDay:
    """The timetable with what is on record; it has no slots before it is made."""
    return RunningDay(
        slots=in_order(await day_timetable.slots(db, tryout.id)),
        sections={squad.id: squad.section for squad in await squads.squads(db, tryout.id)},
        made=attempts_made(await attempts.attempts(db, tryout.id)),
        now=now,
        away=frozenset((one.squad_id, one.event) for one in await absences.absences(db, tryout.id)),
    )


async def has_timetable(db: Snapshot, tryout: Tryout, event: str = "") -> bool:
    """Whether squads have read a timetable with runs of an event, or of any."""
    draw = await day_draw.draw(db, tryout.id)
    if tryout.plan.event_day is None or not is_told(draw):
        return False
    return has_runs(await day_timetable.slots(db, tryout.id), event)

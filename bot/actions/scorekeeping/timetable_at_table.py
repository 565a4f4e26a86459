"""The timetable as the table sees it: what is on record of it, and which squad comes next, with or without one."""

from datetime import datetime

from bot.actions.scorekeeping.recorded_so_far import spots
from bot.rules.event_day import running_day as day_rules
from bot.rules.event_day.own_times import is_told
from bot.rules.event_day.running_day import RunningDay, attempts_made, has_runs
from bot.rules.event_day.timetable import in_order
from bot.rules.scorekeeping.score_table import following
from storage.records.people import Squad
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


async def next_squad(db: Snapshot, tryout: Tryout, about: str, event: str, squad_id: int) -> tuple[Squad | None, bool]:
    """Which squad comes after this one, if any, and whether a timetable says so; else it is the next one by number."""
    if await has_timetable(db, tryout, event):
        return await next_at_table(db, tryout, squad_id, event, tryout.created_at), True
    found = {spot.squad.id: spot for spot in await spots(db, tryout, about)}
    left = {one for one, spot in found.items() if not spot.done}
    after = following(list(found), left, squad_id)
    return None if after is None else found[after].squad, False


async def next_at_table(db: Snapshot, tryout: Tryout, squad_id: int, event: str, now: datetime) -> Squad | None:
    """Who is on next at the table at which a squad has just run in an event; None where nobody is left at it."""
    after = day_rules.next_at_table(await running_day(db, tryout, now), squad_id, event)
    return None if after is None else await squads.squad(db, after)

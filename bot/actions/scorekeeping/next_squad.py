"""Which squad is led to after saving: by the timetable, else the next number with attempts left."""

from collections.abc import Sequence
from datetime import datetime

from bot.actions.scorekeeping.recorded_so_far import Spot, spots
from bot.actions.scorekeeping.timetable_at_table import has_timetable, running_day
from storage.records.people import Squad
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot


def following(found: Sequence[Spot], squad_id: int) -> Squad | None:
    """The next squad, by number and round again, that still has attempts left here."""
    place = [spot.squad.id for spot in found].index(squad_id)
    for spot in (*found[place + 1 :], *found[:place]):
        if spot.absence is None and len(spot.attempts) < spot.allowed:
            return spot.squad
    return None


async def next_squad(db: Snapshot, tryout: Tryout, about: str, event: str, squad_id: int) -> tuple[Squad | None, bool]:
    """Which squad comes after this one, if any, and whether a timetable says so; else it is the next one by number."""
    if await has_timetable(db, tryout, event):
        return await next_at_table(db, tryout, squad_id, event, tryout.created_at), True
    return following(await spots(db, tryout, about), squad_id), False


async def next_at_table(db: Snapshot, tryout: Tryout, squad_id: int, event: str, now: datetime) -> Squad | None:
    """Who is on next at the table at which a squad has just run in an event; None where nobody is left at it."""
    found = await running_day(db, tryout, now)
    mine = [slot for slot in found.slots if (slot.squad_id, slot.event, slot.kind) == (squad_id, event, "run")]
    over = [slot for slot in mine if found.is_over(slot)]
    table = (over or mine)[-1].table_number if mine else None
    for queue in found.queues:
        if table == queue.table and queue.on is not None and queue.on.event == event:
            return await squads.squad(db, queue.on.squad_id)
    return None

"""Which squad is led to after saving: what the timetable and the records at the table say.

A file of its own: the event day takes the timetable from beside it at start, without all of the table.
"""

from datetime import datetime

from bot.actions.scorekeeping.recorded_so_far import spots
from bot.actions.scorekeeping.timetable_at_table import has_timetable, running_day
from bot.rules.event_day import running_day as day_rules
from bot.rules.scorekeeping.score_table import following
from storage.records.people import Squad
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot


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

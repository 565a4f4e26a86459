"""Who of a squad is here, and what it is given for that: ticked before its first start, again when somebody is late."""

from collections.abc import Collection

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.scorekeeping.may_start import attendance_of
from bot.actions.scorekeeping.recorded_so_far import Spot, spot_of
from bot.actions.scorekeeping.score_table import squad_page
from bot.rules.event_day.presence_and_equipment import Attendance, check_anybody, room_is_told
from bot.rules.scorekeeping.may_record import check_open
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import presence_and_equipment as words
from storage.records.message import Answer, Open, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import outbox, presence, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(DayKey.DAY_HERE, "scorekeeper")
async def ask_presence(db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int) -> Answer:
    """Open the roster to tick who is here."""
    check_open(tryout)
    spot = await spot_of(db, tryout, about, squad_id)
    found = await attendance_of(db, squad_id, spot.event.key)
    members = await squads.members(db, squad_id)
    check_anybody(spot.squad, members)
    return Open(form=words.here_form(spot.squad, spot.event, about, members, found))


@act(DayKey.DAY_NOTED, "scorekeeper")
async def note(db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int) -> Answer:
    """Note who is here; the squad's room is told when the number changes."""
    check_open(tryout)
    spot = await spot_of(db, tryout, about, squad_id)
    chosen = set(request.fields.get("here", "").split())
    before, after = await keep_presence(db, tryout, request, spot, chosen)
    if room_is_told(before, after):
        await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", words.told(spot.event, after), request.at)
    return Replace(message=await squad_page(db, tryout, about, squad_id))


async def keep_presence(
    db: Transaction, tryout: Tryout, request: Request, spot: Spot, chosen: Collection[str]
) -> tuple[Attendance, Attendance]:
    """Keep of each member of a squad whether they are here; returns who was here by then, and now."""
    squad_id, event = spot.squad.id, spot.event
    before = await attendance_of(db, squad_id, event.key)
    here = {student: str(student) in chosen for student in before.members}
    await presence.note(db, squad_id, event.key, here, request.who, request.at)
    after = await attendance_of(db, squad_id, event.key)
    if after.here != before.here:
        changed = sorted(after.here or ()) if before.here is None else sorted((after.here or set()) ^ before.here)
        await audit(db, tryout, request, "day.here", squad=squad_id, event=event.key, changed=changed)
    return before, after

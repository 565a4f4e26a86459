"""Before a squad starts: who is here, and whether it may."""

from zoneinfo import ZoneInfo

from bot.actions.core.roles import roles
from bot.rules.core.refusal import Refusal
from bot.rules.event_day.presence_and_equipment import Attendance, attendance, check_may_start
from bot.rules.event_day.safety import check_safe, is_checked
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import presence, safety, squads
from storage.tables.sql_session import Snapshot


async def attendance_of(db: Snapshot, squad_id: int, event: str) -> Attendance:
    """Who of a squad is here for an event."""
    members = [student.id for student in await squads.members(db, squad_id)]
    return attendance(members, await presence.ticks(db, squad_id, event))


async def check_may_start_now(
    db: Snapshot, tryout: Tryout, request: Request, event: Event, squad: Squad, about: str, run_id: int = 0
) -> None:
    """Whether a squad may start now, or a Refusal: as `check_safe` and `check_may_start` say.

    `about` is the measure, and `run_id` the run at a pad, so that a refusal leads on, and back.
    """
    checks = await safety.checks(db, tryout.id, event.key)
    stop = await safety.last_stop(db, tryout.id, event.key)
    since = None if stop is None else stop.stopped_at
    checked = is_checked(checks, squad.id, request.at, ZoneInfo(tryout.plan.zone), since)
    found = await attendance_of(db, squad.id, event.key)
    try:
        check_safe(event, checked, stop)
        check_may_start(event, found, "coach" in await roles(db, tryout, request))
    except Refusal as no:
        raise Refusal(no.reason, **no.fields, about=about, number=squad.id, run=run_id) from None

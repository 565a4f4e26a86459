"""The members of squads: who is in which, somebody takes a seat, and which squad has too few."""

from bot.actions.core.audit import audit
from bot.actions.squads.exclusive_roles import check_may_compete
from bot.actions.squads.squads_changed import board_changed, tell_squad
from bot.rules.squads import members as rules
from bot.rules.squads import small_squads
from bot.rules.squads.captain import leads_on_arrival
from bot.words.squads import squad_room
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import decisions, squads, students
from storage.tables.sql_session import Snapshot, Transaction


async def by_squad(db: Snapshot, tryout: Tryout) -> list[tuple[Squad | None, list[Student]]]:
    """Every squad with its members, then the students without one (under None)."""
    return rules.by_squad(await squads.squads(db, tryout.id), await students.students(db, tryout.id))


async def take_seat(
    db: Transaction, tryout: Tryout, request: Request, one: Student, squad: Squad, how: rules.Way
) -> None:
    """Seat a student in a squad, as captain where nobody leads it; the squad reads who came.

    The caller has checked that there is a seat.

    Raises:
        Refusal: `helper_cannot_compete`.
    """
    await check_may_compete(db, tryout, one.platform_id)
    await students.seat(db, one, squad.id, request.at)
    now = await squads.squad(db, squad.id)
    if now is not None and leads_on_arrival(now):
        await squads.set_captain(db, squad.id, one.id)
    if how in rules.TOLD_IN_ROOM:
        await tell_squad(db, tryout, squad, squad_room.came(one.name), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, f"squad.{how}", squad=squad.id, student=one.id)


async def is_small(db: Snapshot, tryout: Tryout, squad: Squad) -> bool:
    """Whether a squad is too small and has not been allowed to be."""
    members, allowed = await squads.members(db, squad.id), await decisions.allowed_small(db, tryout.id)
    return small_squads.is_small(tryout.plan, len(members), squad.id in allowed)

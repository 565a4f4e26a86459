"""Seats in squads: who has which, one is taken or given up, which squad has too few, and all are empty in the end."""

from typing import Literal

from bot.actions.core.audit import audit
from bot.actions.squads.exclusive_roles import check_may_compete
from bot.actions.squads.squads_changed import board_changed, tell_squad
from bot.rules.squads import seats as rules
from bot.rules.squads.captain import next_captain
from bot.rules.squads.small_squads import members_missing
from bot.rules.squads.take_squad_out import goes_when_empty
from bot.words.squads import squad_room
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import decisions, practice, squad_room_members, squads, students
from storage.tables.sql_session import Snapshot, Transaction


async def by_squad(db: Snapshot, tryout: Tryout) -> list[tuple[Squad | None, list[Student]]]:
    """Every squad with its members, then the students without one (under None)."""
    return rules.by_squad(await squads.squads(db, tryout.id), await students.students(db, tryout.id))


async def take_seat(
    db: Transaction, tryout: Tryout, request: Request, one: Student, squad: Squad, how: Literal["join", "place"]
) -> None:
    """Seat a student in a squad, as captain where nobody leads it; the squad reads who came.

    The caller has checked that there is a seat.

    Raises:
        Refusal: `helper_cannot_compete`.
    """
    await check_may_compete(db, tryout, one.platform_id)
    await students.seat(db, one, squad.id, request.at)
    await squads.lead_if_nobody_does(db, squad.id, one.id)
    await tell_squad(db, tryout, squad, squad_room.came(one.name), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, f"squad.{how}", squad=squad.id, student=one.id)


async def give_up_seat(db: Transaction, tryout: Tryout, request: Request, member: Student, squad: Squad) -> None:
    """Take a member out: a captain is followed by whoever joined first.

    A squad that is empty then is closed, but not once the result is announced, in which it stands.
    """
    await students.unseat(db, member)
    stay = await squads.members(db, squad.id)
    captain = next_captain(squad, stay)
    if captain is None and goes_when_empty(tryout.result_stands):
        await take_out(db, squad.id)
    elif captain is None:
        await squads.set_captain(db, squad.id, None)
    else:
        await squads.set_captain(db, squad.id, captain.id)
        changed = captain if captain.id != squad.captain_id else None
        await tell_squad(db, tryout, squad, squad_room.went(member.name, changed), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, "squad.leave", squad=squad.id, student=member.id)


async def take_out(db: Transaction, squad_id: int) -> None:
    """Take a squad out of the try-out: its practice turns are free, nobody leads it, and its room empties.

    Once it is empty, delivery puts the room away (`bot/delivery/room_closer.py`).
    """
    await practice.free_all(db, squad_id)
    await squads.set_withdrawn(db, squad_id)
    await squad_room_members.all_leave_room(db, squad_id)


async def is_small(db: Snapshot, tryout: Tryout, squad: Squad) -> bool:
    """Whether a squad is too small and has not been allowed to be."""
    missing = members_missing(tryout.plan, await squads.members(db, squad.id))
    return missing > 0 and squad.id not in await decisions.allowed_small(db, tryout.id)

"""Whoever takes part neither judges, keeps score, types in sheets nor coaches; and the other way round."""

from collections.abc import Iterable

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.request import Person, Request
from storage.records.tryout import Tryout
from storage.tables import helpers, squads, students
from storage.tables.sql_session import Snapshot


async def check_may_compete(db: Snapshot, tryout: Tryout, platform_id: int | None) -> None:
    """Whoever holds an office or judges has no seat in a squad; a student without an account holds none.

    Raises:
        Refusal: `helper_cannot_compete`.
    """
    if not await may_compete(db, tryout, platform_id):
        raise Refusal(Reason.HELPER_CANNOT_COMPETE)


async def may_compete(db: Snapshot, tryout: Tryout, platform_id: int | None) -> bool:
    """Whether this account holds no office and does not judge; a student without an account may."""
    return platform_id is None or not await helpers.roles_held(db, tryout.id, platform_id) - {"competitor"}


async def check_i_may_compete(db: Snapshot, tryout: Tryout, request: Request) -> None:
    """The same for the person of a request, who is a coach by the platform's word, too.

    Raises:
        Refusal: `helper_cannot_compete`, `manager_cannot_compete`.
    """
    await check_may_compete(db, tryout, request.who)
    if request.manages_server:
        raise Refusal(Reason.MANAGER_CANNOT_COMPETE)


async def would_help(db: Snapshot, tryout: Tryout, request: Request) -> bool:
    """Whether somebody holds an office, or is a coach by the platform's word; a seat in a squad suspends it."""
    return request.manages_server or not await may_compete(db, tryout, request.who)


async def check_may_help(db: Snapshot, tryout: Tryout, people: Iterable[Person]) -> None:
    """Whoever has a seat in a squad gets no office and does not judge.

    Raises:
        Refusal: `competitor_cannot_help` (person, squad).
    """
    for person in people:
        student = await students.student_of(db, tryout.id, person.id)
        squad = await squads.squad(db, student.squad_id) if student and student.squad_id else None
        if squad is not None:
            raise Refusal(Reason.COMPETITOR_CANNOT_HELP, person=person.name, squad=squad.name)

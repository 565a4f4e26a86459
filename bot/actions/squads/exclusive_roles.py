"""Whoever takes part neither judges, keeps score, types in sheets nor coaches; and the other way round."""

from collections.abc import Iterable

from bot.rules.squads import exclusive_roles as rules
from storage.records.request import Person, Request
from storage.records.tryout import Tryout
from storage.tables import helpers, squads, students
from storage.tables.sql_session import Snapshot


async def check_may_compete(db: Snapshot, tryout: Tryout, platform_id: int | None) -> None:
    """Whoever holds an office or judges has no seat in a squad; a student without an account holds none.

    Raises:
        Refusal: `helper_cannot_compete`.
    """
    rules.check_may_compete(await _held(db, tryout, platform_id))


async def may_compete(db: Snapshot, tryout: Tryout, platform_id: int | None) -> bool:
    """Whether this account holds no office and does not judge; a student without an account may."""
    return rules.may_compete(await _held(db, tryout, platform_id))


async def check_i_may_compete(db: Snapshot, tryout: Tryout, request: Request) -> None:
    """The same for the person of a request, who is a coach by the platform's word, too.

    Raises:
        Refusal: `helper_cannot_compete`, `manager_cannot_compete`.
    """
    rules.check_may_compete(await _held(db, tryout, request.who), request.manages_server)


async def would_help(db: Snapshot, tryout: Tryout, request: Request) -> bool:
    """Whether somebody holds an office, or is a coach by the platform's word; a seat in a squad suspends it."""
    return rules.would_help(await _held(db, tryout, request.who), request.manages_server)


async def check_may_help(db: Snapshot, tryout: Tryout, people: Iterable[Person]) -> None:
    """Whoever has a seat in a squad gets no office and does not judge.

    Raises:
        Refusal: `competitor_cannot_help` (person, squad).
    """
    for person in people:
        student = await students.student_of(db, tryout.id, person.id)
        squad = await squads.squad(db, student.squad_id) if student and student.squad_id else None
        rules.check_may_help(person.name, squad)


async def _held(db: Snapshot, tryout: Tryout, platform_id: int | None) -> set[str]:
    """The roles of an account; without an account there are none."""
    return set() if platform_id is None else await helpers.roles_held(db, tryout.id, platform_id)

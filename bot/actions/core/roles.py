"""What somebody who asks is in a try-out: looked up in our lists, and never by a role's name on the class server."""

from bot.rules.core.roles import Role, roles_of, would_hold
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import helpers
from storage.tables.sql_session import Snapshot


async def roles(db: Snapshot, tryout: Tryout | None, request: Request) -> set[Role]:
    """What a person is in this try-out, by the platform's word and our own lists."""
    enrolled = set() if tryout is None else await helpers.roles_held(db, tryout.id, request.who)
    return roles_of(enrolled, request.manages_server)


async def would_be(db: Snapshot, tryout: Tryout, request: Request, role: Role) -> bool:
    """Whether somebody lacks a role only because of a seat in a squad."""
    return would_hold(role, await helpers.roles_held(db, tryout.id, request.who), request.manages_server)

"""What somebody who asks is in a try-out, by our lists alone; and students who may manage the class server."""

from collections.abc import Awaitable, Callable
from typing import TypeVar

from bot.rules.core.roles import MANAGES_NOTED_AGAIN, Role, roles_of, would_hold
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.store import Store
from storage.tables import helpers, seen_managers, tryouts
from storage.tables.sql_session import Snapshot

T = TypeVar("T")


async def roles(db: Snapshot, tryout: Tryout | None, request: Request) -> set[Role]:
    """What a person is in this try-out, by the platform's word and our own lists."""
    enrolled = set() if tryout is None else await helpers.roles_held(db, tryout.id, request.who)
    return roles_of(enrolled, request.manages_server)


async def would_be(db: Snapshot, tryout: Tryout, request: Request, role: Role) -> bool:
    """Whether somebody lacks a role only because of a seat in a squad."""
    return would_hold(role, await helpers.roles_held(db, tryout.id, request.who), request.manages_server)


class ManagesUnnoted(Exception):
    """A student in a squad may manage the class server, which is to be noted before anything else."""

    def __init__(self, tryout_id: int) -> None:
        self.tryout_id = tryout_id


async def check_noted(db: Snapshot, request: Request) -> None:
    """Let go on whoever is no such student, or has been noted.

    Raises:
        ManagesUnnoted: it is to be noted first.
    """
    if not request.manages_server or request.server_id is None:
        return
    tryout = await tryouts.running(db, request.server_id)
    if tryout and await seen_managers.manages_unnoted(db, tryout.id, request.who, request.at - MANAGES_NOTED_AGAIN):
        raise ManagesUnnoted(tryout.id)


async def noting(store: Store, request: Request, work: Callable[[], Awaitable[T]]) -> T:
    """Do work that checks for it; where it is to be noted first, note it and do the work then."""
    try:
        return await work()
    except ManagesUnnoted as unnoted:
        tryout_id = unnoted.tryout_id
        await store.transact(lambda db: seen_managers.note_manages(db, tryout_id, request.who, request.at))
    return await work()

"""Students in squads who are seen with the right to manage the class server: noted once a day, for the office."""

from collections.abc import Awaitable, Callable
from typing import TypeVar

from bot.rules.core.seen_managers import NOTED_AGAIN
from storage.records.request import Request
from storage.store import Store
from storage.tables import seen_managers, tryouts
from storage.tables.sql_session import Snapshot

T = TypeVar("T")


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
    if tryout and await seen_managers.manages_unnoted(db, tryout.id, request.who, request.at - NOTED_AGAIN):
        raise ManagesUnnoted(tryout.id)


async def noting(store: Store, request: Request, work: Callable[[], Awaitable[T]]) -> T:
    """Do work that checks for it; where it is to be noted first, note it and do the work then."""
    try:
        return await work()
    except ManagesUnnoted as unnoted:
        tryout_id = unnoted.tryout_id
        await store.transact(lambda db: seen_managers.note_manages(db, tryout_id, request.who, request.at))
    return await work()

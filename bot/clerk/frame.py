"""How every request is dealt with: who may ask, one transaction, one receipt, one answer.

A request's *action* is the first part of the key of the button, select or form that made it, such as `squad.join`.
Each action is one function of the clerk, marked `@act` (it writes) or `@view` (it only reads), with the role that may
ask for it. The role is checked here, at every request, inside the same transaction.
"""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import Any, Literal, TypeVar

from bot.clerk.trail import note
from bot.rules.refusal import Refusal
from bot.words import refusals
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.store import Store
from storage.tables import judges, trail, tryouts
from storage.tables.session import Conflict, Snapshot, Transaction

Role = Literal["anyone", "judge", "scorekeeper", "coach", "manager"]
"""Who may ask. A coach may do what a scorekeeper may; a manager (of the class server) is a coach, even before there is
a try-out, so that the functions of this role take `Tryout | None`."""


@dataclass(frozen=True)
class Action:
    """One thing that can be asked for."""

    key: str
    role: Role
    writes: bool
    run: Callable[..., Awaitable[Answer]]


ACTIONS: dict[str, Action] = {}

Asked = TypeVar("Asked", bound=Callable[..., Awaitable[Answer]])
"""`async (db, tryout, request) -> Answer`"""


def _enter(key: str, role: Role, writes: bool) -> Callable[[Asked], Asked]:
    def keep(run: Asked) -> Asked:
        if key in ACTIONS:
            raise ValueError(f"two functions for the action {key}")
        ACTIONS[key] = Action(key, role, writes, run)
        return run

    return keep


def act(key: str, role: Role = "anyone") -> Callable[[Asked], Asked]:
    """Mark a function `async (db: Transaction, tryout, request) -> Answer` as the action `key`."""
    return _enter(key, role, writes=True)


def view(key: str, role: Role = "anyone") -> Callable[[Asked], Asked]:
    """Mark a function `async (db: Snapshot, tryout, request) -> Answer` that only reads as the action `key`."""
    return _enter(key, role, writes=False)


async def perform(store: Store, action: Action, request: Request) -> Answer:
    """Deal with a request once, however often it comes: the same interaction gets the same answer.

    Refusals and conflicts become private answers here; anything else that is raised is a fault, and nothing is changed.
    """
    if not action.writes:
        async with store.read() as snapshot:
            try:
                return await _ask(snapshot, action, request)
            except Refusal as refusal:
                return refused(refusal)
    async with store.write() as db:
        first = await trail.receipt(db, request.id)
        if first is not None:
            return first
        try:
            async with db.undoable():
                answer = await _ask(db, action, request)
        except Refusal as refusal:
            answer = refused(refusal)
        except Conflict:
            answer = refused(Refusal("someone_was_quicker"))
        await trail.keep_receipt(db, request.id, answer, request.at)
    return answer


def refused(refusal: Refusal) -> Say:
    """The private answer that says no and what to do next."""
    return Say(message=refusals.message(refusal))


async def _ask(db: Snapshot, action: Action, request: Request) -> Answer:
    tryout = await tryout_of(db, request)
    held = await roles(db, tryout, request)
    if action.role not in held:
        raise Refusal(f"only_{action.role}" if tryout is not None or action.role == "manager" else "no_tryout")
    if tryout is None and action.role != "manager":
        raise Refusal("no_tryout")
    return await action.run(db, tryout, request)


async def tryout_of(db: Snapshot, request: Request) -> Tryout | None:
    """The try-out a request is about: the class server's, or in a direct message the one the person judges in."""
    if request.server_id is not None:
        return await tryouts.running(db, request.server_id)
    return await judges.tryout_judged_by(db, request.who)


async def roles(db: Snapshot, tryout: Tryout | None, request: Request) -> set[Role]:
    """What a person is in this try-out, by the platform's word and our own lists; never by a role's name."""
    held: set[Role] = {"anyone"}
    if request.manages_server:
        held |= {"manager", "coach", "scorekeeper"}
    if tryout is None:
        return held
    for officer in await tryouts.officers(db, tryout.id):
        if officer.platform_id == request.who:
            held |= {"coach", "scorekeeper"} if officer.role == "coach" else {"scorekeeper"}
    if await judges.judge_of(db, tryout.id, request.who) is not None:
        held.add("judge")
    return held


async def record(db: Transaction, tryout: Tryout, request: Request, action: str, **details: Any) -> None:
    """Write into the trail what a person did."""
    await note(db, tryout.id, request.at, f"user:{request.who}", action, details)

"""How every request is dealt with: who may ask, one transaction, one first answer, one answer.

A request's *action* is the first part of the key of the button, select or form that made it, such as `squad.join`.
Each action is one function of the actions, its handler, marked `@act` (it writes) or `@view` (it only reads), with the
role that may ask for it. The role is checked here, at every request, inside the same transaction. What the key carries
and what was chosen is read here too, as the handler's signature declares it (see `arguments`).
"""

from collections.abc import Awaitable, Callable
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any, TypeVar

from bot.actions.core.arguments import Arguments, declared, read, takes
from bot.actions.core.roles import check_noted, noting, roles, would_be
from bot.actions.core.tryout_of_request import tryout_of
from bot.actions.core.worker_thread import TRIES, Outdated, run_in_worker
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.roles import Role, why_refused
from bot.words.core import refusals
from bot.words.core.action_keys import AnyKey
from bot.words.core.written_given_back import with_written
from storage.records.message import Answer, Say
from storage.records.request import FieldMissing, Request
from storage.store import Store
from storage.tables import processed_interactions
from storage.tables.sql_session import Conflict, Snapshot, Transaction

T = TypeVar("T")


Work = Callable[[], T]
"""What takes longer than a transaction may: done beside the event loop, once the snapshot has been given back."""


@dataclass(frozen=True)
class Action:
    """One thing that can be asked for."""

    key: AnyKey
    role: Role
    writes: bool
    run: Callable[..., Awaitable[Any]]
    slow: bool = False
    """Takes longer than the platform waits, so that the person is told to wait first; no form can be the answer."""
    before: Callable[..., Awaitable[Work[Any]]] | None = None
    """What an action that writes has drawn before its transaction begins."""
    admits: Callable[..., Awaitable[None]] | None = None
    """For an action that takes files: asked before a byte of them is fetched; raises a Refusal. Without it, files that
    come along are left where they are."""
    unbegun: bool = False
    """Also makes sense while no try-out runs; its function then takes `Tryout | None`."""
    arguments: dict[Callable[..., Awaitable[Any]], Arguments] = field(init=False)
    """What `run` and `before` take besides the request."""

    def __post_init__(self) -> None:
        handlers = [one for one in (self.run, self.before, self.admits) if one is not None]
        object.__setattr__(self, "arguments", {one: declared(one) for one in handlers})


ACTIONS: dict[AnyKey, Action] = {}
"""Those of the subjects that have been learnt; ask `registry.action_of`."""


Asked = TypeVar("Asked", bound=Callable[..., Awaitable[Answer]])
"""`async (db, tryout, request, …) -> Answer`"""


Viewed = TypeVar("Viewed", bound=Callable[..., Awaitable[Answer | Work[Answer]]])
"""The same; or it returns a function that makes the Answer, for sums that are too long for the event loop."""


AskedSlowly = TypeVar("AskedSlowly", bound=Callable[..., Awaitable[Work[Answer]]])
"""`async (db, tryout, request, …) -> a function that makes the Answer`"""


def _enter(action: Action) -> None:
    if action.key in ACTIONS:
        raise ValueError(f"two functions for the action {action.key}")
    ACTIONS[action.key] = action


def act(
    key: AnyKey,
    role: Role = "anyone",
    before: Callable[..., Awaitable[Work[Any]]] | None = None,
    admits: Callable[..., Awaitable[None]] | None = None,
    unbegun: bool = False,
) -> Callable[[Asked], Asked]:
    """Mark a function `async (db: Transaction, tryout, request, …) -> Answer` as the action `key`.

    `before`, a function like that of a slow view, prepares what the transaction needs (a picture, say) outside of it;
    its result comes as the keyword `prepared`. What it saw may have changed meanwhile: the action must check that, and
    raises `Outdated` to have it prepared anew.
    `admits`, which an action that takes files must have, says whether they are worth fetching, or raises a Refusal.
    """

    def keep(run: Asked) -> Asked:
        slow = before is not None
        _enter(Action(key, role, writes=True, run=run, slow=slow, before=before, admits=admits, unbegun=unbegun))
        return run

    return keep


def view(key: AnyKey, role: Role = "anyone", unbegun: bool = False) -> Callable[[Viewed], Viewed]:
    """Mark a function `async (db: Snapshot, tryout, request, …) -> Answer` that only reads as the action `key`.

    What it returns may also be work that makes the answer, such as standings: it is done beside the event loop, once
    the snapshot has been given back.
    """

    def keep(run: Viewed) -> Viewed:
        _enter(Action(key, role, writes=False, run=run, unbegun=unbegun))
        return run

    return keep


def slow_view(key: AnyKey, role: Role = "anyone") -> Callable[[AskedSlowly], AskedSlowly]:
    """Mark a function that reads, and returns the work that makes its answer, as the action `key`.

    For pictures and long computations: the work is done beside the event loop, outside the snapshot.
    """

    def keep(run: AskedSlowly) -> AskedSlowly:
        _enter(Action(key, role, writes=False, run=run, slow=True))
        return run

    return keep


async def perform(store: Store, action: Action, request: Request) -> Answer:
    """Deal with a request once, however often it comes: the same interaction gets the same answer.

    Refusals and conflicts become private answers here; anything else that is raised is a fault, and nothing is changed.
    """
    for _ in range(TRIES):
        with suppress(Outdated):
            return await noting(store, request, lambda: _perform(store, action, request))
    return refused(Refusal(Reason.SOMEONE_WAS_QUICKER), action, request)


async def _perform(store: Store, action: Action, request: Request) -> Answer:
    if not action.writes:
        try:
            look = store.look_beside if action.slow else store.look
            found = await look(lambda db: _ask_noting(db, action, action.run, request))
            answer: Answer = await run_in_worker(found) if callable(found) else found
        except Refusal as refusal:
            return refused(refusal, action, request)
        return answer
    prepared: dict[str, Any] = {}
    stopped: Refusal | None = None
    if action.before is not None:
        try:
            prepared["prepared"] = await _prepare(store, action, action.before, request)
        except Refusal as refusal:
            stopped = refusal
    return await store.transact(lambda db: _carry_out(db, action, request, stopped, prepared))


async def _carry_out(
    db: Transaction, action: Action, request: Request, stopped: Refusal | None, prepared: dict[str, Any]
) -> Answer:
    """The transaction of a request: what it does, and its first answer."""
    first = await processed_interactions.first_answer(db, request.id)
    if first is not None:
        return first
    answer: Answer
    try:
        if stopped is not None:
            raise stopped
        async with db.undoable():
            answer = await _ask_noting(db, action, action.run, request, **prepared)
    except Refusal as refusal:
        answer = refused(refusal, action, request)
    except Conflict:
        answer = refused(Refusal(Reason.SOMEONE_WAS_QUICKER), action, request)
    await processed_interactions.keep_answer(db, request.id, answer, request.at)
    return answer


async def refuse_files(store: Store, action: Action, request: Request) -> Say | None:
    """Why the files of a request are not fetched: a role that lacks, a state in which they are not taken; else None.

    The action must have `admits`.
    """
    admits = action.admits
    assert admits is not None
    try:
        await noting(store, request, lambda: store.look(lambda db: _ask_noting(db, action, admits, request)))
    except Refusal as refusal:
        return refused(refusal, action, request)
    return None


async def _prepare(store: Store, action: Action, before: Callable[..., Awaitable[Work[Any]]], request: Request) -> Any:
    """What an action needs prepared before its transaction begins."""
    work: Work[Any] = await store.look_beside(lambda db: _ask_noting(db, action, before, request))
    return await run_in_worker(work)


def refused(refusal: Refusal, action: Action, request: Request) -> Say:
    """The private answer that says no and what to do next, with what was written, so that no sentence is lost."""
    lost = {} if request.stands else request.fields
    about = request.args if takes(action.arguments[action.run], request.args) else None
    return Say(message=with_written(refusals.reply(refusal, action.role, action.key, about), lost))


async def _ask_noting(
    db: Snapshot, action: Action, handler: Callable[..., Awaitable[Any]], request: Request, **prepared: Any
) -> Any:
    """Ask, unless it is to be noted first that a student in a squad may manage the class server."""
    await check_noted(db, request)
    return await _ask(db, action, handler, request, **prepared)


async def _ask(
    db: Snapshot, action: Action, handler: Callable[..., Awaitable[Any]], request: Request, **prepared: Any
) -> Any:
    tryout = await tryout_of(db, request, action.key, action.arguments[action.run])
    if action.role != "anyone" and action.role not in await roles(db, tryout, request):
        competes = tryout is not None and await would_be(db, tryout, request, action.role)
        found = tryout is not None or request.server_id is None
        raise Refusal(why_refused(action.role, competes=competes, found=found))
    if tryout is None and not action.unbegun:
        raise Refusal(Reason.NO_TRYOUT)
    carried, chosen = read(action.arguments[handler], request.args, request.values)
    try:
        return await handler(db, tryout, request, *carried, **chosen, **prepared)
    except FieldMissing:
        raise Refusal(Reason.OUT_OF_DATE) from None

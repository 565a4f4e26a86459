"""What is due: each kind of it is one function, whose writes, follow-up rows and `done` are one transaction."""

import logging
from collections.abc import Awaitable, Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from typing import Any, TypeVar

from bot.actions.core.fault_log import log_fault
from bot.actions.core.subject_loading import learn_kind
from bot.actions.core.worker_thread import TRIES, Outdated, run_in_worker
from bot.rules.core.lateness import is_too_late
from bot.rules.core.refusal import Refusal
from bot.rules.delivery.backoff import backoff_delay
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.store import Store
from storage.tables import scheduled_jobs, tryouts
from storage.tables.sql_session import Snapshot, Transaction

log = logging.getLogger(__name__)

Handle = Callable[..., Awaitable[None]]
Prepare = Callable[[Snapshot, Tryout, datetime], Awaitable[Callable[[], Any]]]
"""`async (db, tryout, now) -> work`"""
ROUNDS = 50
"""How often handlers may plan something for the very instant at which they run."""


@dataclass(frozen=True)
class JobType:
    """One kind of thing that can be due."""

    handle: Handle
    catch_up: bool
    before: Prepare | None = None


JOB_TYPES: dict[str, JobType] = {}

Handled = TypeVar("Handled", bound=Handle)
"""`async (db: Transaction, tryout, due, now) -> None`; with `before` also the keyword `prepared`"""


def job(kind: str, catch_up: bool = False, before: Prepare | None = None) -> Callable[[Handled], Handled]:
    """Mark a function as what happens when something of this kind is due.

    With `catch_up`, when several of one try-out are due at once (after a gap), only the newest is handled and the
    older ones are skipped; so a kind with `catch_up` must not have two rows that are meant to be handled both.
    `before` reads, and returns long work that is done beside the event loop and outside the transaction; what it makes
    comes as the keyword `prepared`. A handler for which that does not fit any more raises `Outdated`.
    """

    def keep(handle: Handled) -> Handled:
        if kind in JOB_TYPES:
            raise ValueError(f"two functions for {kind}")
        JOB_TYPES[kind] = JobType(handle, catch_up, before)
        return handle

    return keep


async def ring(store: Store, now: datetime) -> datetime | None:
    """Handle everything that is due by now, oldest first; what fails is tried again later, the rest goes on.

    Returns when something is due next.

    Raises:
        StorageFault: the database cannot be used at present.
    """
    upcoming: datetime | None = None
    for _ in range(ROUNDS):
        rows, upcoming = await store.look(lambda db: _due(db, now))
        if not rows:
            return upcoming
        newest = {(row.tryout_id, row.kind): row.id for row in rows if not is_too_late(row, now)}
        for row in rows:
            learn_kind(row.kind)
            kind = JOB_TYPES.get(row.kind)
            overtaken = kind is not None and kind.catch_up and newest.get((row.tryout_id, row.kind), row.id) != row.id
            try:
                await _handle_prepared(store, row, now, overtaken)
            except Exception as error:  # noqa: BLE001 - one fault must not stop the rest
                code = log_fault(log, f"handling {row.kind}", error)
                again, why = now + backoff_delay(row.tries + 1), f"fault {code}"
                await store.transact(partial(scheduled_jobs.postpone_job, job_id=row.id, until=again, why=why))
    log.error("something due plans itself again and again for the instant at which it runs")
    return upcoming


async def _due(db: Snapshot, now: datetime) -> tuple[list[ScheduledJob], datetime | None]:
    """What is due by now, and when something is due next."""
    return await scheduled_jobs.jobs_due_by(db, now), await scheduled_jobs.next_job_at(db)


async def _handle_prepared(store: Store, row: ScheduledJob, now: datetime, overtaken: bool) -> None:
    before = JOB_TYPES[row.kind].before if row.kind in JOB_TYPES else None
    if before is None:
        return await _handle(store, row.id, now, overtaken, {})
    for _ in range(TRIES):
        work = await store.look_beside(partial(_begin, row, before, now))
        with suppress(Outdated):
            return await _handle(store, row.id, now, overtaken, {"prepared": await run_in_worker(work)})
    raise Outdated(row.kind)


async def _begin(row: ScheduledJob, before: Prepare, now: datetime, db: Snapshot) -> Callable[[], Any]:
    """The long work of a job, which can then be done beside the event loop."""
    return await before(db, await tryouts.get(db, row.tryout_id), now)


async def _handle(store: Store, job_id: int, now: datetime, overtaken: bool, prepared: dict[str, Any]) -> None:
    async def handle(db: Transaction) -> None:
        row = await scheduled_jobs.job(db, job_id)
        if row is None or row.state != "waiting" or row.at > now:
            return
        state, why = "skipped", ""
        if is_too_late(row, now):
            why = "too late"
        elif overtaken:
            why = "caught up"
        else:
            tryout = await tryouts.get(db, row.tryout_id)
            try:
                async with db.undoable():
                    await JOB_TYPES[row.kind].handle(db, tryout, row, now, **prepared)
                state = "done"
            except Refusal as refusal:
                why = refusal.reason
        await scheduled_jobs.settle_job(db, job_id, state, now, why)

    await store.transact(handle)

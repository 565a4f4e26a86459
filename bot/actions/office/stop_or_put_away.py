"""A try-out is put away, so that the next one can begin; asked once with what the class will read."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.office.readiness import before_step
from bot.actions.privacy.purge_tryout import plan_purge
from bot.rules.calendar.job_times import JOB_TYPES
from bot.rules.office.stop_or_put_away import class_is_told
from bot.words.core.action_keys import ActionKey
from bot.words.office import stop_or_put_away as words
from storage.records.message import Answer, Message, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import live_messages, outbox, scheduled_jobs, tryouts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.TRYOUT_ASK_ARCHIVE, "coach")
async def ask_to_archive(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before the try-out is put away."""
    lacking, stop = await before_step(db, tryout, request.at, "archive")
    if stop is not None:
        return stop
    return Replace(message=words.sure_to_archive(tryout, _farewell(tryout), lacking))


@act(ActionKey.TRYOUT_ARCHIVE, "coach")
async def archive(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Put the try-out away, so that the next one can begin; one that has gone on since it was shown is shown first."""
    lacking, stop = await before_step(db, tryout, request.at, "archive")
    if stop is not None:
        return stop
    if stamp != words.archive_stamp(tryout):
        return Replace(message=words.sure_to_archive(tryout, _farewell(tryout), lacking, changed=True))
    farewell = _farewell(tryout)
    if farewell is not None:
        await outbox.enqueue(db, tryout.id, "news", farewell, request.at)
    for kind in JOB_TYPES:
        await scheduled_jobs.cancel_jobs(db, tryout.id, kind)
    await plan_purge(db, tryout, request.at)
    await tryouts.set_state(db, tryout.id, "archived")
    await live_messages.mark_stale(db, tryout.id, "signup")
    await audit(db, tryout, request, "tryout.archive")
    return Replace(message=words.archived())


def _farewell(tryout: Tryout) -> Message | None:
    return words.cancelled(tryout.plan) if class_is_told(tryout.state) else None

"""The announcement at a time of day: planned by the coach, said only if it would still be what the coach has seen."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from zoneinfo import ZoneInfo

from bot.actions.core.audit import append_entry, audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.scheduled_jobs import job
from bot.actions.results.announce import LATER, Said, draw_said, keep_records, occasion_of, say, stamp_now
from bot.actions.scoring.score_book import digest_of, score_book
from bot.rules.calendar.local_time import wall_clock
from bot.rules.calendar.quiet_hours import is_quiet
from bot.rules.core.lateness import is_late
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.announce_later import check_waiting, next_time, says_itself, waits
from bot.words.core.action_keys import ActionKey
from bot.words.results import announce_later as words
from bot.words.results import feedback as feedback_words
from bot.words.results.announce import Occasion
from storage.records.message import Answer, Open, Replace, Say
from storage.records.request import Request
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables import outbox, scheduled_jobs
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.RESULTS_AT, "coach")
async def ask_time(db: Snapshot, tryout: Tryout, request: Request, stamp: str) -> Answer:
    """Ask at what time of day it is to be said."""
    check_waiting(tryout.state, tryout.announced_at)
    return Open(form=words.time_form(stamp))


@act(ActionKey.RESULTS_PLANNED, "coach")
async def plan(db: Transaction, tryout: Tryout, request: Request, stamp: str) -> Answer:
    """Plan the announcement for the next time that the clock shows this; an earlier plan is dropped."""
    check_waiting(tryout.state, tryout.announced_at)
    if await stamp_now(db, tryout) != stamp:
        raise Refusal(ResultReason.SCORES_CHANGED)
    zone = ZoneInfo(tryout.plan.zone)
    at = next_time(request.field("time"), request.at, zone)
    await scheduled_jobs.cancel_jobs(db, tryout.id, LATER)
    await scheduled_jobs.schedule_job(db, tryout.id, LATER, f"{stamp}.{int(at.timestamp())}", at)
    book = digest_of(await score_book(db, tryout))
    await audit(db, tryout, request, "results.plan", book=book)
    return Say(message=words.planned(at, is_quiet(wall_clock(at, zone).time(), tryout.plan.calendar)))


@act(ActionKey.RESULTS_NOT_PLANNED, "coach")
async def drop(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Announce nothing by itself."""
    await scheduled_jobs.cancel_jobs(db, tryout.id, LATER)
    await audit(db, tryout, request, "results.not-planned")
    return Replace(message=words.dropped())


async def _draw_planned(db: Snapshot, tryout: Tryout, now: datetime) -> Callable[[], Said | None]:
    """Draw what is planned, at the instant it is planned for; nothing where it cannot be said any more."""
    waiting = await scheduled_jobs.waiting_jobs(db, tryout.id, LATER)
    if not waiting or not waits(tryout.state, tryout.announced_at):
        return _nothing
    at = waiting[0].at
    return partial(_drawn, await score_book(db, tryout), await occasion_of(db, tryout, at), at)


def _nothing() -> None:
    return None


def _drawn(book: ScoreBook, occasion: Occasion, at: datetime) -> Said | None:
    try:
        return draw_said(book, occasion, at)
    except Refusal:
        return None


@job(LATER, before=_draw_planned)
async def announce(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime, *, prepared: Said | None) -> None:
    """Say it at its time; when it is late, or not what the coach has seen, the office reads that nothing was said."""
    same = prepared is not None and prepared.stamp == row.key.partition(".")[0] == await stamp_now(db, tryout)
    if prepared is None or not says_itself(same, is_late(row, now), tryout.state, tryout.announced_at):
        message = words.not_announced(late=is_late(row, now))
        await outbox.enqueue(db, tryout.id, "office", message, now)
        return
    outdated = await say(db, tryout, prepared, row.at)
    details = {"placed": list(prepared.placed), "book": prepared.digest}
    await append_entry(db, tryout.id, now, "clock", "results.announce", details)
    await keep_records(db, tryout, prepared, row.at)
    if outdated:
        await outbox.enqueue(db, tryout.id, "office", feedback_words.feedback_to_send(outdated), row.at)

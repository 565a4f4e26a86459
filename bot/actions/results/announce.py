"""The announcement: everything is said at one moment, and only when the coach has seen exactly what."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, slow_view
from bot.actions.judging.sheet_queries import all_entries
from bot.actions.privacy.purge_tryout import plan_purge
from bot.actions.results.feedback import feedback_outdated
from bot.actions.results.finality import plan_end_of_protests
from bot.actions.results.listed_changes import plan_changes
from bot.actions.scoring.score_book import digest_of, outcome_of, score_book
from bot.actions.squads.members import by_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.privacy.retention import purge_at
from bot.rules.results.announce import check_not_announced, check_ready, on_paper, unused_attempts
from bot.rules.results.feedback_draft import draft
from bot.rules.results.hidden_until_close import check_begun
from bot.rules.results.own_sheets_first import own_open
from bot.rules.results.protests import protests_until
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import shown_stamp
from bot.words.results import announce as words
from bot.words.results import listed_changes
from bot.words.results.feedback_draft import drafted
from bot.words.results.own_result import BEGINS, own_result
from bot.words.results.preview import result_files
from storage.records.message import Answer, Attachment, Message, Say
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables import (
    audit_log,
    judges,
    late_changes,
    live_messages,
    outbox,
    reopen_after_close,
    scheduled_jobs,
    squads,
    tryouts,
)
from storage.tables.sql_session import Snapshot, Transaction

LATER = "announce"
"""The kind of job that announces at a time of day."""


@dataclass(frozen=True)
class Said:
    """Everything that an announcement says, drawn before its transaction."""

    digest: str
    """Of everything the result is computed from."""
    stamp: str
    """The same, with all that is said beside the numbers: for these very words a coach has pressed."""
    news: Message
    rooms: Sequence[tuple[int, Message]]
    """By squad id."""
    files: tuple[Attachment, ...]
    placed: tuple[int, ...]
    until: datetime | None
    """When protests end."""
    drafts: Mapping[int, str]
    """Of a corrected result: the drafts of feedback, by squad id."""


@slow_view(ActionKey.RESULTS_ANNOUNCE, "coach")
async def look(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """What is missing, or exactly what would be said."""
    check_begun(tryout.state)
    check_not_announced(tryout.announced_at)
    book = await score_book(db, tryout)
    occasion = await occasion_of(db, tryout, request.at)
    return partial(_look, tryout, book, len(own_open(book, request.who)), occasion, request.at)


def _look(tryout: Tryout, book: ScoreBook, own_sheets: int, occasion: words.Occasion, at: datetime) -> Answer:
    result = outcome_of(book, at=at)
    missing = words.lacking(result, tryout.state == "settled", own_sheets, occasion.open_again)
    if missing:
        return Say(message=words.not_yet(missing))
    said = words.announcement(result, occasion)
    return Say(
        message=words.preview(said, stamp_of(book, occasion.changes), tryout.plan.announce, unused_attempts(book))
    )


def stamp_of(book: ScoreBook, decided: Sequence[listed_changes.Change]) -> str:
    """What a button carries of an announcement that was shown, so that no other one is said."""
    beside = [(change.at, *change.what, change.reason) for change in decided]
    return shown_stamp(digest_of(book), beside)


async def draw(db: Snapshot, tryout: Tryout, request: Request) -> Work[Said]:
    """Draw what will be said, outside of the transaction that says it.

    Raises Refusal: `already_announced`, `not_ready_to_announce`.
    """
    check_not_announced(tryout.announced_at)
    book = await score_book(db, tryout)
    check_ready(tryout.state, own_open(book, request.who))
    return partial(draw_said, book, await occasion_of(db, tryout, request.at), request.at)


def draw_said(book: ScoreBook, occasion: words.Occasion, at: datetime) -> Said:
    """Draw everything that is said at an instant. Raises Refusal: `not_ready_to_announce`."""
    result = outcome_of(book, at=at)
    if words.lacking(result, judging_closed=True, own_sheets=0, open_again=occasion.open_again):
        raise Refusal(ResultReason.NOT_READY_TO_ANNOUNCE)
    rooms = [
        (row.squad_id, own_result(result, row, occasion.until, occasion.again, occasion.earlier.get(row.squad_id)))
        for row in result.standings.rows
    ]
    news = words.announcement(result, occasion)
    stamp = stamp_of(book, occasion.changes)
    drafts = (
        {row.squad_id: drafted(result, row, draft(result.plan, row)) for row in result.standings.rows}
        if occasion.again
        else {}
    )
    placed = result.standings.placed
    return Said(digest_of(book), stamp, news, rooms, result_files(result), placed, occasion.until, drafts)


@act(ActionKey.RESULTS_ANNOUNCED, "coach", before=draw)
async def announce(db: Transaction, tryout: Tryout, request: Request, stamp: str, *, prepared: Said) -> Answer:
    """Say it: the squads' own results and the news, at one moment, once."""
    check_not_announced(tryout.announced_at)
    said = prepared
    if not said.stamp == await stamp_now(db, tryout) == stamp:
        raise Refusal(ResultReason.SCORES_CHANGED)
    outdated = await say(db, tryout, said, request.at)
    await audit(db, tryout, request, "results.announce", placed=list(said.placed), book=said.digest)
    await keep_records(db, tryout, said, request.at)
    return Say(message=words.announced(len(said.rooms), outdated))


async def stamp_now(db: Snapshot, tryout: Tryout) -> str:
    """Of what would be said now."""
    return stamp_of(await score_book(db, tryout), await plan_changes(db, tryout))


async def say(db: Transaction, tryout: Tryout, said: Said, at: datetime) -> int:
    """The class and every squad read it; what was planned for later is dropped.

    Returns how many squads have feedback for an earlier result, which counts as not sent.
    """
    await tryouts.set_announced(db, tryout.id, at)
    await late_changes.shut(db, tryout.id, at)
    await reopen_after_close.shut_requests(db, tryout.id, at)
    await scheduled_jobs.cancel_jobs(db, tryout.id, LATER)
    await plan_purge(db, await tryouts.get(db, tryout.id), at)
    for squad_id, message in said.rooms:
        await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", message, at)
    await outbox.enqueue(db, tryout.id, "news", said.news, at)
    await live_messages.mark_stale(db, tryout.id, "*")
    return await feedback_outdated(db, tryout, said.drafts) if said.drafts else 0


async def keep_records(db: Transaction, tryout: Tryout, said: Said, at: datetime) -> None:
    """The office keeps the whole result with the digest of the audit log, in which the announcement stands by now."""
    ends = await audit_log.last_digest(db)
    unread = [squad.name for squad in on_paper(await by_squad(db, tryout))]
    kept = words.for_the_records(said.files, ends, said.until, purge_at(tryout.plan, at), unread)
    await outbox.enqueue(db, tryout.id, "office", kept, at)
    if said.until is not None:
        await plan_end_of_protests(db, tryout, said.until)


async def occasion_of(db: Snapshot, tryout: Tryout, now: datetime) -> words.Occasion:
    """What an announcement says beside the numbers."""
    again = tryout.first_announced_at is not None
    return words.Occasion(
        until=protests_until(tryout.plan, now),
        changes=await plan_changes(db, tryout),
        fingerprint=tryout.plan_sha256,
        again=again,
        earlier=await _earlier(db, tryout) if again else {},
        open_again=await _open_again(db, tryout),
    )


async def _open_again(db: Snapshot, tryout: Tryout) -> list[tuple[str, str]]:
    if not await reopen_after_close.reopenings(db, tryout.id):
        return []
    names = {judge.id: judge.name for judge in await judges.judges(db, tryout.id)}
    entries = await all_entries(db, tryout)
    return [(names.get(one.sheet.judge_id, "?"), one.squad.name) for one in entries if one.again]


async def _earlier(db: Snapshot, tryout: Tryout) -> dict[int, str]:
    """What each squad read last of its own result."""
    read = {
        squad.id: await outbox.texts_beginning(db, tryout.id, f"squad/{squad.id}", BEGINS)
        for squad in await squads.squads(db, tryout.id)
    }
    return {squad: texts[-1] for squad, texts in read.items() if texts}

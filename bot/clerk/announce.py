"""The announcement: everything is said at one moment, and only when the coach has seen exactly what."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial

from bot.clerk.book import score_book
from bot.clerk.dues import due
from bot.clerk.frame import Work, act, record, slow_view
from bot.clerk.privacy import plan_purge
from bot.clerk.results import check_begun, outcome_of, own_open, result_files
from bot.rules.calendar import protest_ends, purge_at
from bot.rules.refusal import Refusal
from bot.words import announce as words
from bot.words.outcome import Outcome
from bot.words.own_result import own_result
from storage.records.delivery import Due
from storage.records.message import Answer, Attachment, Message, Say
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables import decisions, post, trail, tryouts
from storage.tables.session import Snapshot, Transaction


@dataclass(frozen=True)
class Said:
    """Everything that an announcement says, drawn before its transaction."""

    digest: str
    news: Message
    rooms: Sequence[tuple[int, Message]]
    """By squad id."""
    files: tuple[Attachment, ...]
    placed: tuple[int, ...]


def digest_of(book: ScoreBook) -> str:
    """A short fingerprint of everything the result is computed from."""
    return hashlib.sha256(book.model_dump_json().encode()).hexdigest()[:16]


@slow_view("results.announce", "coach")
async def look(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """What is missing, or exactly what would be said."""
    check_begun(tryout)
    if tryout.announced_at is not None:
        raise Refusal("already_announced")
    book = await score_book(db, tryout)
    changes = await plan_changes(db, tryout)
    return partial(_look, tryout, book, len(own_open(book, request.who)), changes, request.at)


def _look(tryout: Tryout, book: ScoreBook, own_sheets: int, changes: Sequence[words.Change], now: datetime) -> Answer:
    outcome = outcome_of(book)
    missing = words.lacking(outcome, tryout.state == "settled", own_sheets)
    if missing:
        return Say(message=words.not_yet(missing))
    said = _news(tryout, outcome, changes, now)
    return Say(message=words.preview(said, digest_of(book), tryout.plan.announce))


async def draw(db: Snapshot, tryout: Tryout, request: Request) -> Work[Said]:
    """Draw what will be said, outside of the transaction that says it.

    Raises Refusal: `already_announced`, `not_ready_to_announce`.
    """
    if tryout.announced_at is not None:
        raise Refusal("already_announced")
    book = await score_book(db, tryout)
    if tryout.state != "settled" or own_open(book, request.who):
        raise Refusal("not_ready_to_announce")
    return partial(_draw, tryout, book, await plan_changes(db, tryout), request.at)


def _draw(tryout: Tryout, book: ScoreBook, changes: Sequence[words.Change], now: datetime) -> Said:
    outcome = outcome_of(book)
    if words.lacking(outcome, judging_closed=True, own_sheets=0):
        raise Refusal("not_ready_to_announce")
    until = _until(tryout, now)
    rooms = [(row.squad_id, own_result(outcome, row, until)) for row in outcome.standings.rows]
    news = _news(tryout, outcome, changes, now)
    return Said(digest_of(book), news, rooms, result_files(outcome), outcome.standings.placed)


@act("results.announced", "coach", before=draw)
async def announce(db: Transaction, tryout: Tryout, request: Request, said: Said) -> Answer:
    """Say it: the squads' own results and the news, at one moment, once."""
    if tryout.announced_at is not None:
        raise Refusal("already_announced")
    if not said.digest == digest_of(await score_book(db, tryout)) == request.args[0]:
        raise Refusal("scores_changed")
    await tryouts.set_announced(db, tryout.id, request.at)
    await plan_purge(db, await tryouts.get(db, tryout.id), request.at)
    for squad_id, message in said.rooms:
        await post.queue(db, tryout.id, f"squad/{squad_id}", message, request.at)
    await post.queue(db, tryout.id, "news", said.news, request.at)
    await post.touch_cards(db, tryout.id, "*")
    await record(db, tryout, request, "results.announce", placed=list(said.placed), book=said.digest)
    ends = await trail.last_digest(db)
    kept = words.for_the_records(said.files, ends, _until(tryout, request.at), purge_at(tryout.plan, request.at))
    await post.queue(db, tryout.id, "office", kept, request.at)
    until = _until(tryout, request.at)
    if until is not None:
        await post.plan_due(db, tryout.id, "protests", "over", until)
    return Say(message=words.announced(len(said.rooms)))


@due("protests")
async def protests_over(db: Transaction, tryout: Tryout, row: Due, now: datetime) -> None:
    """The coach is told that the result stands."""
    if tryout.state == "announced":
        await post.queue(db, tryout.id, "office", words.protests_over(), now)


async def plan_changes(db: Snapshot, tryout: Tryout) -> list[words.Change]:
    """What was changed in the plan since the brief, oldest first."""
    return [
        words.Change(one.at, one.changes, one.reason)
        for one in await decisions.decisions(db, tryout.id)
        if one.kind == "plan"
    ]


def _until(tryout: Tryout, now: datetime) -> datetime | None:
    return protest_ends(tryout.plan, now) if tryout.plan.protest_days else None


def _news(tryout: Tryout, outcome: Outcome, changes: Sequence[words.Change], now: datetime) -> Message:
    return words.announcement(outcome, _until(tryout, now), changes, tryout.plan_sha256)

"""The score book: everything the standings are computed from, read at one moment."""

import hashlib
from collections import OrderedDict
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.rules.scoring.standings import standings
from bot.rules.scoring.standings_records import Standings
from bot.rules.scoring.tie_breaks import has_run_offs
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables import absences, attempts, judges, score_sheets, squads, students
from storage.tables.sql_session import Snapshot


async def score_book(db: Snapshot, tryout: Tryout) -> ScoreBook:
    """The score book of a try-out as it stands now, by the plan that counts."""
    members: dict[int, int] = {}
    for student in await students.students(db, tryout.id):
        if student.squad_id is not None:
            members[student.squad_id] = members.get(student.squad_id, 0) + 1
    return ScoreBook(
        plan=tryout.plan,
        squads=tuple(await squads.squads(db, tryout.id)),
        members=members,
        judges=tuple(await judges.judges(db, tryout.id)),
        attempts=tuple(await attempts.attempts(db, tryout.id)),
        sheets=tuple(await score_sheets.sheets(db, tryout.id)),
        absences=tuple(await absences.absences(db, tryout.id)),
    )


def digest_of(book: ScoreBook) -> str:
    """A short fingerprint of everything the result is computed from."""
    return hashlib.sha256(book.model_dump_json().encode()).hexdigest()[:16]


_KEPT: OrderedDict[str, Standings] = OrderedDict()
MOST_KEPT = 8
"""Standings that are remembered; the same book is looked at again and again once judging is closed."""


async def tied_for_good(db: Snapshot, tryout: Tryout) -> bool:
    """Whether squads are equal at the last place, and nothing in the plan can be run off."""
    if has_run_offs(tryout.plan):
        return False
    return standings_of(await score_book(db, tryout)).straddle is not None


def standings_of(book: ScoreBook) -> Standings:
    """The standings of a book, worked out once as long as nothing in it changes."""
    digest = digest_of(book)
    found = _KEPT.pop(digest, None) or standings(book)
    _KEPT[digest] = found
    while len(_KEPT) > MOST_KEPT:
        _KEPT.popitem(last=False)
    return found


def outcome_of(book: ScoreBook, hidden: frozenset[int] = frozenset(), at: datetime | None = None) -> ResultView:
    """The book with its standings; takes a while, so it is done beside the event loop where it can be.

    `at`, the instant at which it is looked at, is wanted for pictures: the day stands on them.
    """
    on = None if at is None else at.astimezone(ZoneInfo(book.plan.zone)).date()
    return ResultView(book, standings_of(book), hidden, on)

"""The coach's private view of the result: the standings, and before judging closes only who owes what."""

from datetime import datetime
from functools import partial

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.results.finality import doubt_of
from bot.actions.results.who_won_and_why import analysis_of
from bot.actions.scoring.score_book import outcome_of, score_book
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.finality import Doubt
from bot.rules.results.hidden_until_close import check_begun, check_unsealed, sealed
from bot.rules.results.own_sheets_first import own_open
from bot.rules.results.preview import shows_files
from bot.words.core.action_keys import ActionKey
from bot.words.core.number_text import count
from bot.words.results import hidden_until_close
from bot.words.results import preview as words
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import State, Tryout
from storage.tables.sql_session import Snapshot


@slow_view(ActionKey.RESULTS_PANEL, "coach")
async def preview_panel(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """The private standings, with the picture and the files; before judging closes only who owes what."""
    check_begun(tryout.state)
    book = await score_book(db, tryout)
    hidden = own_open(book, request.who)
    if sealed(tryout.state):
        return partial(_sealed, book, tryout.state, len(hidden), 0)
    why = await doubt_of(db, tryout, request.at)
    return partial(_preview, book, hidden, tryout.announced_at is not None, why, request.at)


def _sealed(book: ScoreBook, state: State, own_sheets: int, number: int) -> Answer:
    return Say(message=hidden_until_close.sealed_view(outcome_of(book), state, own_sheets, number))


def _preview(book: ScoreBook, hidden: frozenset[int], announced: bool, why: Doubt | None, at: datetime) -> Answer:
    result = outcome_of(book, hidden, at)
    files = words.result_files(result) if shows_files(result.standings, hidden) else ()
    return Say(message=words.preview(result, analysis_of(result), files, announced, why))


@slow_view(ActionKey.RESULTS_PAGE, "coach")
async def page(db: Snapshot, tryout: Tryout, request: Request, number: int) -> Work[Answer]:
    """Another page of the private standings; a new message, because the first one keeps its picture."""
    check_begun(tryout.state)
    book = await score_book(db, tryout)
    hidden = own_open(book, request.who)
    if sealed(tryout.state):
        return partial(_sealed, book, tryout.state, len(hidden), number)
    return partial(_page, book, hidden, number, tryout.announced_at is not None, await doubt_of(db, tryout, request.at))


def _page(book: ScoreBook, hidden: frozenset[int], number: int, announced: bool, why: Doubt | None) -> Answer:
    result = outcome_of(book, hidden)
    return Say(message=words.preview_page(result, analysis_of(result), number, announced, why))


async def whole_book(db: Snapshot, tryout: Tryout, request: Request) -> ScoreBook:
    """The book, for someone who may see every mark in it.

    Raises Refusal: `results_not_yet`, `still_sealed`, `own_sheets_first`.
    """
    check_unsealed(tryout.state)
    book = await score_book(db, tryout)
    hidden = own_open(book, request.who)
    if hidden:
        raise Refusal(ResultReason.OWN_SHEETS_FIRST, sheets=count(len(hidden), "score sheet"))
    return book

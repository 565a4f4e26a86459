"""Why a squad stands where it stands, for the coach: its whole way to its total."""

from datetime import datetime
from functools import partial

from bot.actions.core.dispatch import Work, slow_view, view
from bot.actions.scoring.score_book import outcome_of, score_book
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.results.hidden_until_close import check_unsealed
from bot.rules.results.own_sheets_first import check_own_closed, own_open
from bot.rules.squads.find_student_or_squad import squad_called
from bot.words.core.action_keys import ActionKey
from bot.words.results import explain_total_to_coach as words
from storage.records.message import Answer, Replace, Say
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@view(ActionKey.RESULTS_SQUADS, "coach")
async def squads(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Work[Answer]:
    """Pick a squad to explain."""
    check_unsealed(tryout.state)
    book = await score_book(db, tryout)
    return lambda: Say(message=words.squads(outcome_of(book), page))


@slow_view(ActionKey.RESULTS_SQUAD, "coach")
async def squad(db: Snapshot, tryout: Tryout, request: Request, *, picked: int | None = None) -> Work[Answer]:
    """Why them: one squad's whole way to its total, as text and picture."""
    book, squad_id = await _book_for_squad(db, tryout, request, picked)
    return partial(_explain, book, squad_id, request.at)


def _explain(book: ScoreBook, squad_id: int, at: datetime) -> Answer:
    result = outcome_of(book, at=at)
    return Say(message=words.explain(result, result.standings.row(squad_id)))


@view(ActionKey.RESULTS_SQUAD_PAGE, "coach")
async def squad_page(db: Snapshot, tryout: Tryout, request: Request, number: int, squad_id: int) -> Work[Answer]:
    """Another page of one squad's way."""
    book, _ = await _book_for_squad(db, tryout, request, squad_id)

    def show() -> Answer:
        result = outcome_of(book)
        return Replace(message=words.explain(result, result.standings.row(squad_id), number, picture=False))

    return show


async def _book_for_squad(db: Snapshot, tryout: Tryout, request: Request, chosen: int | None) -> tuple[ScoreBook, int]:
    """The book and the squad that was picked, or typed by number or name.

    Raises Refusal: `results_not_yet`, `still_sealed`, `no_squad`, `own_sheet_first`.
    """
    check_unsealed(tryout.state)
    book = await score_book(db, tryout)
    typed = request.fields.get("squad", "")
    found = next((one for one in book.squads if one.id == chosen), None)
    if chosen is None:
        found = squad_called(typed, book.squads)
    if found is None:
        raise Refusal(Reason.NO_SQUAD, typed=typed)
    check_own_closed(found, own_open(book, request.who))
    return book, found.id

"""The coach's private view of the result, and why a squad stands where it stands."""

from datetime import datetime
from functools import partial

from bot.actions.core.dispatch import Work, slow_view, view
from bot.actions.results.finality import doubt_of
from bot.actions.scoring.once_a_result import once_a_result
from bot.actions.scoring.score_book import outcome_of, score_book
from bot.rules.analysis.adjusted_panels import evened, evened_standings
from bot.rules.analysis.agreement import agreements
from bot.rules.analysis.judge_profiles import judge_views, mark_gaps
from bot.rules.analysis.placing_bootstrap import JudgeBootstrap, judge_bootstrap
from bot.rules.analysis.robustness import firmness
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.results.finality import Doubt
from bot.rules.results.hidden_until_close import sealed
from bot.rules.results.preview import check_begun, check_complete, check_unsealed, own_open
from bot.rules.scoring.packet import packet_text
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.standings_records import Standings
from bot.rules.squads.squad_by_name_or_number import squad_called
from bot.words.core.action_keys import ActionKey
from bot.words.core.plain_text import count
from bot.words.results import preview as words
from bot.words.results.complete_result import Analysis
from bot.words.scoring import explain_total_to_coach as explain_words
from bot.words.scoring import missing_scores
from bot.words.scoring.export_tables import csv_file, standings_rows
from bot.words.scoring.packet_text import formulas_text
from bot.words.scoring.result_view import ResultView
from storage.records.message import Answer, Attachment, Replace, Say
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
    return Say(message=missing_scores.sealed_view(outcome_of(book), state, own_sheets, number))


def _preview(book: ScoreBook, hidden: frozenset[int], announced: bool, why: Doubt | None, at: datetime) -> Answer:
    result = outcome_of(book, hidden, at)
    # What is said about the judges, and the files with every mark, wait until the reader's own sheets are closed.
    # They wait, too, until every squad is ranked: a table taken away would go on naming a wrong winner.
    files = () if hidden or not result.standings.complete else result_files(result)
    return Say(message=words.preview(result, _analysis(result), files, announced, why))


def _analysis(result: ResultView) -> Analysis | None:
    """None while something is missing or hidden: then anything that is said about a winner would mislead."""
    found = result.standings
    return None if result.hidden or not found.complete or not found.rows else _analysed(result.book, found)


@once_a_result
def _analysed(book: ScoreBook, found: Standings) -> Analysis:
    return Analysis(firmness(book, found), agreements(found), judge_views(found), evened(found), evened_standings(book))


@once_a_result
def _drawn_again(book: ScoreBook, _: Standings) -> JudgeBootstrap:
    return judge_bootstrap(book)


def result_files(result: ResultView) -> tuple[Attachment, ...]:
    """The whole table for a spreadsheet, and the packet from which anyone can recompute it."""
    packet = packet_text(build(result.book, result.standings, formulas_text()))
    return (
        csv_file("standings.csv", standings_rows(result)),
        Attachment(name="results-packet.json", data=packet.encode()),
    )


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
    return Say(message=words.preview_page(result, _analysis(result), number, announced, why))


@slow_view(ActionKey.RESULTS_FIRM, "coach")
async def firm(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """How firm the place is."""
    return partial(_firm, await whole_book(db, tryout, request), request.at)


def _firm(book: ScoreBook, at: datetime) -> Answer:
    result = outcome_of(book, at=at)
    check_complete(result.standings)
    firm = _analysed(book, result.standings).firm
    return Say(message=words.firm_page(result, firm, _drawn_again(book, result.standings)))


@slow_view(ActionKey.RESULTS_JUDGES, "coach")
async def judges(db: Snapshot, tryout: Tryout, request: Request, number: int = 0) -> Work[Answer]:
    """Whether the judges agree, and how each of them marks."""
    return partial(_judges, await whole_book(db, tryout, request), number)


def _judges(book: ScoreBook, number: int) -> Answer:
    result = outcome_of(book)
    check_complete(result.standings)
    found = _analysed(book, result.standings)
    panels = words.Panels(
        found.agreements, found.views, mark_gaps(result.standings), found.evened, found.evened_standings
    )
    return Say(message=words.judges_page(result, panels, number))


async def whole_book(db: Snapshot, tryout: Tryout, request: Request) -> ScoreBook:
    """The book, for someone who may see every mark in it.

    Raises Refusal: `results_not_yet`, `still_sealed`, `own_sheets_first`.
    """
    check_unsealed(tryout.state)
    book = await score_book(db, tryout)
    hidden = own_open(book, request.who)
    if hidden:
        raise Refusal(Reason.OWN_SHEETS_FIRST, sheets=count(len(hidden), "score sheet"))
    return book


@view(ActionKey.RESULTS_SQUADS, "coach")
async def squads(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Work[Answer]:
    """Pick a squad to explain."""
    check_unsealed(tryout.state)
    book = await score_book(db, tryout)
    return lambda: Say(message=explain_words.squads(outcome_of(book), page))


@slow_view(ActionKey.RESULTS_SQUAD, "coach")
async def squad(db: Snapshot, tryout: Tryout, request: Request, *, picked: int | None = None) -> Work[Answer]:
    """Why them: one squad's whole way to its total, as text and picture."""
    book, squad_id = await _book_for_squad(db, tryout, request, picked)
    return partial(_explain, book, squad_id, request.at)


def _explain(book: ScoreBook, squad_id: int, at: datetime) -> Answer:
    result = outcome_of(book, at=at)
    return Say(message=explain_words.explain(result, result.standings.row(squad_id)))


@view(ActionKey.RESULTS_SQUAD_PAGE, "coach")
async def squad_page(db: Snapshot, tryout: Tryout, request: Request, number: int, squad_id: int) -> Work[Answer]:
    """Another page of one squad's way."""
    book, _ = await _book_for_squad(db, tryout, request, squad_id)

    def show() -> Answer:
        result = outcome_of(book)
        return Replace(message=explain_words.explain(result, result.standings.row(squad_id), number, picture=False))

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
    if found.id in own_open(book, request.who):
        raise Refusal(Reason.OWN_SHEET_FIRST, squad=found.name)
    return book, found.id

"""Rosters, and the standings once judging is closed, as a spreadsheet."""

from functools import partial

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.scoring.score_book import outcome_of, score_book
from bot.actions.squads.members import by_squad
from bot.rules.results.own_sheets_first import own_open
from bot.rules.results.spreadsheet import has_standings, may_have_standings
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.csv_cells import Cell
from bot.words.results import spreadsheet as words
from storage.records.message import Answer
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables import class_lists
from storage.tables.sql_session import Snapshot


@slow_view(ClassKey.SPREADSHEET, "coach")
async def spreadsheet(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """Rosters, and the standings once judging is closed, as a spreadsheet."""
    rows = await by_squad(db, tryout)
    one = await class_lists.class_list(db, tryout.id)
    answers = {entry.student_id: entry.answers for entry in await class_lists.entries(db, tryout.id)}
    roster = words.roster(rows, one.columns if one else (), answers)
    book = await score_book(db, tryout) if may_have_standings(tryout.state) else None
    return partial(_workbook, roster, book, request)


def _workbook(roster: list[list[Cell]], book: ScoreBook | None, request: Request) -> Answer:
    sheets = {words.ROSTER: roster}
    if book is not None:
        result = outcome_of(book, own_open(book, request.who), request.at)
        if has_standings(result.standings, result.hidden):
            sheets[words.STANDINGS] = words.standings_rows(result)
    return words.spreadsheet(sheets, request.at)

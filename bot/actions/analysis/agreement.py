"""Whether the judges agree, for the coach, and how each of them marks."""

from functools import partial

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.results.preview import whole_book
from bot.actions.results.who_won_and_why import analysed
from bot.actions.scoring.score_book import outcome_of
from bot.rules.analysis.judge_profiles import mark_gaps
from bot.rules.results.preview import check_complete
from bot.words.analysis import agreement as words
from bot.words.core.action_keys import ActionKey
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@slow_view(ActionKey.RESULTS_JUDGES, "coach")
async def judges(db: Snapshot, tryout: Tryout, request: Request, number: int = 0) -> Work[Answer]:
    """Whether the judges agree, and how each of them marks."""
    return partial(_judges, await whole_book(db, tryout, request), number)


def _judges(book: ScoreBook, number: int) -> Answer:
    result = outcome_of(book)
    check_complete(result.standings)
    found = analysed(book, result.standings)
    panels = words.Panels(
        found.agreements, found.views, mark_gaps(result.standings), found.evened, found.evened_standings
    )
    return Say(message=words.judges_page(result, panels, number))

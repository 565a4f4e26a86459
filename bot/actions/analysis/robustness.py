"""How firm the place is, for the coach: what other judges, criteria, scales and weights would do to it."""

from datetime import datetime
from functools import partial

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.results.preview import whole_book
from bot.actions.results.who_won_and_why import analysed
from bot.actions.scoring.once_a_result import once_a_result
from bot.actions.scoring.score_book import outcome_of
from bot.rules.analysis.placing_bootstrap import JudgeBootstrap, judge_bootstrap
from bot.rules.results.preview import check_complete
from bot.rules.scoring.standings_records import Standings
from bot.words.analysis import robustness as words
from bot.words.core.action_keys import ActionKey
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@slow_view(ActionKey.RESULTS_FIRM, "coach")
async def firm(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """How firm the place is."""
    return partial(_firm, await whole_book(db, tryout, request), request.at)


def _firm(book: ScoreBook, at: datetime) -> Answer:
    result = outcome_of(book, at=at)
    check_complete(result.standings)
    firm = analysed(book, result.standings).firm
    return Say(message=words.firm_page(result, firm, _drawn_again(book, result.standings)))


@once_a_result
def _drawn_again(book: ScoreBook, _: Standings) -> JudgeBootstrap:
    return judge_bootstrap(book)

"""What is worked out about a complete result: how firm it is, and whether the judges agree; once for each result."""

from bot.actions.scoring.once_a_result import once_a_result
from bot.rules.analysis.agreement import agreements
from bot.rules.analysis.judge_profiles import judge_views
from bot.rules.analysis.judges_evened_out import evened, evened_standings
from bot.rules.analysis.robustness import firmness
from bot.rules.results.who_won_and_why import is_analysed
from bot.rules.scoring.standings_records import Standings
from bot.words.results.who_won_and_why import Analysis
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook


def analysis_of(result: ResultView) -> Analysis | None:
    """None while something is missing or hidden: then anything that is said about a winner would mislead."""
    found = result.standings
    return analysed(result.book, found) if is_analysed(found, result.hidden) else None


@once_a_result
def analysed(book: ScoreBook, found: Standings) -> Analysis:
    """Everything that is worked out about a complete result."""
    return Analysis(firmness(book, found), agreements(found), judge_views(found), evened(found), evened_standings(book))

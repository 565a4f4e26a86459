"""One squad's way to its total: the rule that is named is the one that was used."""

import pytest

from bot.rules.scoring.standings import standings
from bot.words.results.explain_total_to_coach import explain
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_robustness import judged_book
from tests.rules.books import attempt, count, event, plan, share, squads


@pytest.mark.parametrize(
    ("marks", "said"),
    [
        ([1, 5, 6, 9], "5.25 (mean of the judges)"),
        ([1, 5, 6, 9, 4], "5 (mean without the highest and the lowest judge)"),
    ],
)
def test_a_trimmed_mean_is_named_only_where_sheets_were_left_out(marks: list[int], said: str) -> None:
    """From five sheets up (page of formulas); by hand (1 + 5 + 6 + 9) / 4 and (4 + 5 + 6) / 3."""
    book = judged_book([[*marks]], panel="trimmed")
    result = ResultView(book, standings(book))
    assert said in explain(result, result.standings.rows[0], picture=False).text


def test_a_share_of_members_is_a_percentage_and_nothing_is_said_of_a_maximum() -> None:
    book = ScoreBook(
        plan=plan(event("patch", share("all"), count("flags"))),
        squads=squads(1),
        attempts=(
            attempt(1, "patch.all", contributing=3, members=4),
            attempt(1, "patch.flags", id=2, core=50),
        ),
    )
    result = ResultView(book, standings(book))
    text = explain(result, result.standings.rows[0], picture=False).text
    assert "- all, 50 % of the event: 75.0 %\n  - attempt 1: 3 of 4 members took part" in text
    assert "- flags, 50 % of the event: 50 points, of the maximum 100 = 50.0 %" in text

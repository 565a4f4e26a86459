"""One squad's way to its total: the rule that is named is the one that was used."""

import pytest

from bot.rules.scoring.standings import standings
from bot.words.results.explain_total_to_coach import explain
from bot.words.scoring.result_view import ResultView
from tests.rules.analysis.test_robustness import judged_book


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

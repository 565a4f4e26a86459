"""What evening out harsh and lenient judges would do, in words."""

from bot.words.analysis.judges_evened_out import evened_block
from bot.words.results.who_won_and_why import judges_line
from tests.rules.analysis.test_robustness import judged_book
from tests.words.results.test_who_won_and_why import analysis, seen


def test_a_median_is_not_said_to_be_free_of_harsh_judges() -> None:
    """All saw all; by the median squad 1 wins (9 against 8), by the mean squad 2 does (23/3 against 19/3)."""
    book = judged_book([[9, 9, 1], [8, 8, 7]], panel="median")
    result, found = seen(book), analysis(book)
    assert result.standings.placed == (1,)
    assert "**It may have mattered:** evened out, it would go to **Squad 2**." in judges_line(result, found)
    said = evened_block(result, found.evened, found.evened_standings)
    assert "the means stay the same" not in said
    assert "Every judge saw every squad, but the plan does not take the mean of them all." in said

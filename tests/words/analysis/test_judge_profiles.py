"""How each judge marks, in words: nothing of one who shares too few squads, and as harsh as in the packet."""

from collections.abc import Sequence

import pytest

from bot.rules.analysis.judge_profiles import judge_views
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.standings import standings
from bot.words.analysis.judge_profiles import judge_block
from bot.words.scoring.result_view import ResultView
from tests.rules.analysis.test_robustness import judged_book
from tests.rules.books import judges


def how_judges_mark(table: list[list[int]]) -> str:
    book = judged_book(table)
    result = standings(book)
    return judge_block(ResultView(book, result), judge_views(result), None)


@pytest.mark.parametrize("table", [[[3]], [[3], [5]], [[3, 3]], [[3, 5]]])
def test_nothing_is_said_of_a_judge_who_shares_too_few_squads_with_others(table: list[list[int]]) -> None:
    """One judge alone, or two on one squad: that nobody is harsher than the average is no finding."""
    said = how_judges_mark(table)
    assert "too few squads in common with other judges" in said
    assert "neither harsh" not in said and "harsher" not in said and "more lenient" not in said


def test_judges_who_share_two_squads_are_compared() -> None:
    assert "2.0 sheet points harsher" in how_judges_mark([[3, 7], [5, 9]])
    assert "neither harsh nor lenient" in how_judges_mark([[3, 3], [5, 5]])


@pytest.mark.parametrize("weights", [(1, 1, 1), (1, 2, 5), ("0.5", 1, "0.1")])
def test_a_judge_is_as_harsh_on_the_screen_as_in_the_packet(weights: Sequence[object]) -> None:
    book = judged_book([[9, 7, None], [4, None, 8], [None, 6, 5], [8, 8, 3]], panel="adjusted")
    book = book.model_copy(update={"judges": judges(*weights)})
    found = standings(book)
    effects = build(book, found).results.judge_effects
    assert {f"art.patch/{view.judge_number}": -view.severity for view in judge_views(found)} == effects

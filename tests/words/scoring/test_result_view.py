"""Totals as they are shown: what is rounded never says otherwise than what decides."""

from decimal import Decimal
from fractions import Fraction

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from bot.rules.scoring.standings import standings
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook
from tests.rules.books import attempt, counted_book


def just_below(least: str, deductions: str) -> ScoreBook:
    """Squad 1 has 51 points, squad 2 has 50 less some deductions."""
    book = counted_book([[51]], [1])
    second = counted_book([[51], [50]], [1])
    off = attempt(2, "e1.m", core=50, id=201, deductions=Decimal(deductions))
    rules = book.plan.model_copy(update={"qualify": Decimal(least), "places": 2})
    return second.model_copy(update={"plan": rules, "attempts": (*book.attempts, off)})


def test_a_total_just_below_the_minimum_is_not_shown_as_the_minimum() -> None:
    """49.96 rounds to 50.0: the squad would seem to have what it lacks. Common practice, no source."""
    book = just_below("50", "0.04")
    result = ResultView(book, standings(book))
    assert result.standings.placed == (1,)
    assert [result.total(row) for row in result.standings.rows] == ["51.00", "49.96"]


@settings(max_examples=100, deadline=None, phases=[Phase.generate])
@given(st.integers(0, 300), st.sampled_from(["49.9", "50", "49.95"]))
def test_whoever_is_shown_with_the_minimum_or_more_may_win(thousandths: int, least: str) -> None:
    book = just_below(least, str(Decimal(thousandths) / 1000))
    result = ResultView(book, standings(book))
    for row in result.standings.rows:
        assert (Fraction(result.total(row)) >= Fraction(least)) == (row.squad_id in result.standings.placed)

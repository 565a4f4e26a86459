"""Ranks, and ties that stay: which may stand, and which must be settled before the places are known."""

import pytest

from bot.rules.scoring.standings import standings
from tests.rules.books import counted_book
from tests.rules.reference import reference
from tests.rules.scoring.test_standings import order


@pytest.mark.parametrize("name", ["B1a", "B1b"])
def test_ranks_are_standard_competition_ranks(name: str) -> None:
    """Reference B1 (scipy.stats.rankdata): 1, 2, 2, 4."""
    example = reference(name)
    scores = [[int(score)] for score in example["input"]["scores"]]
    result = standings(counted_book(scores, [1]))
    ranks = [result.row(squad).rank for squad in range(1, len(scores) + 1)]
    assert ranks == example["expected"]["competition_1224"]


def test_a_tie_below_the_last_place_may_stand() -> None:
    result = standings(counted_book([[9], [5], [5]], [1]))
    assert order(result) == [(1, 1), (2, 2), (2, 3)]
    assert (result.placed, result.straddle) == ((1,), None)
    assert result.ties[0].left == ((2, 3),)


def test_a_tie_that_fits_into_the_places_may_stand() -> None:
    book = counted_book([[9], [9], [5]], [1])
    result = standings(book.model_copy(update={"plan": book.plan.model_copy(update={"places": 2})}))
    assert (result.placed, result.straddle) == ((1, 2), None)


def test_a_tie_across_the_last_of_several_places_must_be_settled() -> None:
    book = counted_book([[9], [5], [5], [5], [1]], [1])
    result = standings(book.model_copy(update={"plan": book.plan.model_copy(update={"places": 3})}))
    assert result.placed == (1,)
    assert result.straddle is not None
    assert (result.straddle.squads, result.straddle.rank, result.straddle.places_left) == ((2, 3, 4), 2, 2)

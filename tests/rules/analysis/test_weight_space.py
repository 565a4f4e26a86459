"""How much of all weightings of the events would give the places to the same squads."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given

from bot.rules.analysis.weight_changes import smallest_change
from bot.rules.analysis.weight_space import hold
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_weight_changes import counted_books, points_of
from tests.rules.books import absence, counted_book
from tests.rules.reference import reference


@given(counted_books(least_events=2, most_events=3))
def test_the_exact_part_of_all_weightings_agrees_with_drawn_ones(book: ScoreBook) -> None:
    result = standings(book)
    found = hold(result)
    if result.straddle is not None:
        assert found is None
        return
    assert found is not None
    assert found.exact is not None
    chance = np.random.default_rng(7)
    points = {squad: np.array([float(value) for value in row]) for squad, row in points_of(result).items()}
    shares = chance.dirichlet(np.ones(len(result.weights)), size=4_000)
    inside = np.min([shares @ points[squad] for squad in result.placed], axis=0)
    rest = [shares @ points[squad] for squad in points if squad not in result.placed]
    kept = np.mean(inside >= np.max(rest, axis=0)) if rest else 1.0
    assert abs(kept - found.share) < 4 * np.sqrt(0.25 / 4_000)
    for corner in found.corners:
        assert sum(corner) == 1


def test_with_two_events_the_part_is_that_of_the_change_points() -> None:
    """Reference D3: squad 2 (of 0 to 3) wins between 7/32 and 11/16."""
    example = reference("D3")
    table = list(zip(example["input"]["a"], example["input"]["b"], strict=True))
    found = hold(standings(counted_book(table, [1, 1])))
    assert found is not None
    assert found.exact == Fraction(11, 16) - Fraction(7, 32)


def test_with_more_events_weightings_are_drawn_and_the_seed_decides() -> None:
    table = [[9, 2, 5, 7], [3, 8, 6, 4], [5, 5, 5, 5]]
    result = standings(counted_book(table, [4, 1, 2, 3]))
    one, again, other = hold(result, seed=1), hold(result, seed=1), hold(result, seed=2)
    assert one == again
    assert one is not None
    assert other is not None
    assert one.exact is None
    assert one.share == pytest.approx(other.share, abs=0.02)


def test_an_excused_squad_is_weighed_by_the_events_it_has() -> None:
    """Squad 2, excused from event 1, always has 50; squad 1 has 40 w + 60 (1 - w), which is more up to w = 1/2."""
    book = counted_book([[40, 60], [0, 50]], [1, 9], absences=(absence(2, "e1", excused=True),))
    found = hold(standings(book))
    assert found is not None
    assert found.exact is None
    assert found.share == pytest.approx(0.5, abs=0.02)


def test_without_a_holder_of_the_place_there_is_no_part() -> None:
    assert hold(standings(counted_book([[5], [5]], [1]))) is None
    assert smallest_change(standings(counted_book([[5], [5]], [1]))) is not None

"""The smallest change of weights where squads were excused, or can only tie, beside linear programs and drawn ones."""

from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from bot.rules.analysis.weight_changes import smallest_change
from bot.rules.analysis.weight_reach import Points, can_pass, lead, shift_of
from bot.rules.analysis.what_if import with_weights
from bot.rules.scoring.standings import standings
from bot.rules.scoring.standings_records import Standings
from storage.records.scores import ScoreBook
from tests.rules.books import absence, counted_book

SEARCH = settings(max_examples=40, deadline=None, phases=[Phase.generate])


@st.composite
def excused_books(draw: st.DrawFn, most_events: int = 4, most_squads: int = 5) -> ScoreBook:
    """Squads with counts in several events, each excused from some of them but not from all."""
    events, squads = draw(st.integers(2, most_events)), draw(st.integers(2, most_squads))
    table = draw(
        st.lists(st.lists(st.integers(0, 12), min_size=events, max_size=events), min_size=squads, max_size=squads)
    )
    away = [draw(st.sets(st.integers(1, events), max_size=events - 1)) for _ in range(squads)]
    book = counted_book(table, draw(st.lists(st.integers(1, 9), min_size=events, max_size=events)))
    plan = book.plan.model_copy(update={"places": draw(st.integers(1, 2))})
    absences = tuple(absence(n, f"e{e}", excused=True) for n, gone in enumerate(away, 1) for e in sorted(gone))
    return book.model_copy(update={"plan": plan, "absences": absences})


def counting(result: Standings, squad: int) -> dict[str, Fraction]:
    return {event.key: event.points or Fraction(0) for event in result.row(squad).events if event.state != "excused"}


def least_shift(ahead: Points, behind: Points, weights: Points, steps: int = 40) -> float:
    """A lower bound: for each slice of a common total t, a linear program that one has at most t, the other at least.

    Weights of the events that count for one squad only are free to vanish here, so the bound may lie below.
    """
    keys, best = list(weights), np.inf
    now = np.array([float(weight) for weight in weights.values()])
    ends = np.linspace(float(min(ahead.values())), float(max(behind.values())), steps + 1)
    for low, high in pairwise(ends):
        one = [float(ahead[key]) - high if key in ahead else 0.0 for key in keys]
        other = [low - float(behind[key]) if key in behind else 0.0 for key in keys]
        solved = linprog(
            np.full(2 * len(keys), 0.5),
            A_ub=[np.concatenate([one, np.negative(one)]), np.concatenate([other, np.negative(other)])],
            b_ub=[-(now @ one), -(now @ other)],
            A_eq=[np.concatenate([np.ones(len(keys)), -np.ones(len(keys))])],
            b_eq=[0],
            bounds=[(0, None)] * len(keys) + [(0, weight) for weight in now],
        )
        best = min(best, solved.fun if solved.status == 0 else np.inf)
    return float(best)


@settings(SEARCH, max_examples=12)
@given(excused_books())
def test_the_change_is_no_larger_than_linear_programs_allow_and_really_moves_the_place(book: ScoreBook) -> None:
    result = standings(book)
    assume(result.straddle is None and result.placed)
    found = smallest_change(result)
    pairs = [(a, b.squad_id) for a in result.placed for b in result.rows if b.squad_id not in result.placed]
    passing = [pair for pair in pairs if can_pass(counting(result, pair[0]), counting(result, pair[1]))]
    if found is None:
        assert not passing
        return
    assert sum(found.weights.values()) == 1
    assert min(found.weights.values()) >= 0
    gap = lead(counting(result, found.loses), counting(result, found.gains), found.weights)
    assert gap is not None
    assert -Fraction(1, 10**6) < gap <= 0
    assert gap == 0 or found.passes
    if found.passes and found.shift:
        bound = min(least_shift(counting(result, a), counting(result, b), result.weights) for a, b in passing)
        assert bound - 1e-6 <= float(found.shift) <= bound + 0.05


@SEARCH
@given(excused_books(most_events=3, most_squads=4), st.integers(0, 99))
def test_no_drawn_weights_within_the_change_move_a_place(book: ScoreBook, seed: int) -> None:
    result = standings(book)
    assume(result.straddle is None and result.placed)
    found = smallest_change(result)
    reach = Fraction(1) if found is None else found.shift
    chance = np.random.default_rng(seed)
    keys = list(result.weights)
    for _ in range(25):
        there = chance.dirichlet(np.ones(len(keys)))
        toward = {key: Fraction(int(share * 10**6), 10**6) for key, share in zip(keys, there.tolist(), strict=True)}
        toward[keys[0]] += 1 - sum(toward.values())
        whole = shift_of(result.weights, toward)
        part = min(Fraction(1), reach / whole * Fraction(999, 1000)) if whole else Fraction(0)
        drawn = {key: weight + part * (toward[key] - weight) for key, weight in result.weights.items()}
        if min(drawn.values()) <= 0 or not part:
            continue
        moved = standings(with_weights(book, drawn))
        assert (set(moved.placed), moved.straddle) == (set(result.placed), None)


def test_weights_that_move_the_place_are_found_though_a_squad_was_excused() -> None:
    """By hand: 60 at 50:50, and 50 a + 70 (1 - a) on the whole; the other, excused from the second event, has 59."""
    book = counted_book([[50, 70], [59, 0]], [50, 50], absences=(absence(2, "e2", excused=True),))
    result = standings(book)
    assert result.placed == (1,)
    found = smallest_change(result)
    assert found is not None
    assert (found.loses, found.gains, found.passes) == (1, 2, True)
    assert found.weights == {"e1": Fraction(55, 100), "e2": Fraction(45, 100)}


def test_a_tie_that_can_be_reached_and_not_passed_is_a_change_and_says_so() -> None:
    """Both have 9 in the first event; where it alone counts they tie, and nowhere does squad 2 pass."""
    result = standings(counted_book([[9, 9], [9, 8]], [3, 1]))
    found = smallest_change(result)
    assert found is not None
    assert (found.shift, found.weights, found.passes) == (Fraction(1, 4), {"e1": Fraction(1), "e2": Fraction(0)}, False)


def test_a_change_that_passes_is_told_before_a_mere_tie_of_the_same_size() -> None:
    found = smallest_change(standings(counted_book([[10, 8, 0], [6, 4, 0], [10, 0, 2]], [1, 2, 1])))
    assert found is not None
    assert found.passes


@pytest.mark.parametrize(
    ("ahead", "behind", "passes"),
    [
        ({"a": 5, "b": 5}, {"a": 4, "b": 6}, True),
        ({"a": 5}, {"a": 4, "b": 5}, False),  # the second can come as near as one likes, and has no total at the end
        ({"a": 5}, {"a": 4, "b": 6}, True),
        ({"a": 5, "b": 3}, {"a": 4}, True),
        ({"a": 5}, {"b": 5}, False),
        ({"a": 5, "c": 4}, {"b": 5, "c": 3}, True),
    ],
)
def test_who_can_pass_whom(ahead: dict[str, int], behind: dict[str, int], passes: bool) -> None:
    def points(row: dict[str, int]) -> dict[str, Fraction]:
        return {key: Fraction(value) for key, value in row.items()}

    assert can_pass(points(ahead), points(behind)) is passes


def test_where_both_would_have_the_same_from_their_common_events_the_crossing_is_found() -> None:
    """By hand: 12 a + 8 c is above 10 (a + c) once a is more than c, whatever the event with 10 has; so 1/12 moves."""
    table = [[12, 10, 8], [12, 0, 8]]
    result = standings(counted_book(table, [4, 2, 6], absences=(absence(2, "e2", excused=True),)))
    found = smallest_change(result)
    assert found is not None
    assert found.shift == Fraction(1, 12)

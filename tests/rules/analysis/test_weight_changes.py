"""What the weights do, and the smallest change of them that puts another squad in front."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from bot.rules.analysis.weight_changes import change_points, effective_weights, smallest_change
from bot.rules.analysis.weight_space import hold
from bot.rules.analysis.what_if import with_weights
from bot.rules.scoring.standings import standings
from bot.rules.scoring.standings_records import Standings
from storage.records.scores import ScoreBook
from tests.rules.books import attempt, counted_book
from tests.rules.reference import reference


@st.composite
def counted_books(draw: st.DrawFn, least_events: int = 1, most_events: int = 5) -> ScoreBook:
    """Squads with counts in several events of equal maxima, and one or two places."""
    events, squads = draw(st.integers(least_events, most_events)), draw(st.integers(2, 6))
    table = draw(
        st.lists(st.lists(st.integers(0, 20), min_size=events, max_size=events), min_size=squads, max_size=squads)
    )
    book = counted_book(table, draw(st.lists(st.integers(1, 9), min_size=events, max_size=events)))
    return book.model_copy(update={"plan": book.plan.model_copy(update={"places": draw(st.integers(1, 2))})})


def points_of(result: Standings) -> dict[int, list[Fraction]]:
    return {row.squad_id: [event.points or Fraction(0) for event in row.events] for row in result.rows}


# Effective weights


@pytest.mark.parametrize("name", ["B7a", "B7b"])
def test_effective_weights_give_the_worked_examples(name: str) -> None:
    """Reference B7 (own; measure: Richardson 1941, Lord and Novick 1968): exact, one of them negative."""
    example = reference(name)
    columns = [[Fraction(value) for value in column] for column in example["input"]["columns"]]
    scale = 6
    table = [[int(scale * value) for value in row] for row in zip(*columns, strict=True)]
    book = counted_book(table, [Fraction(weight) * 6 for weight in example["input"]["weights"]])
    found = effective_weights(standings(book))
    assert found is not None
    assert list(found.values()) == [Fraction(value) for value in example["expected"]["effective"]]


@given(counted_books())
def test_effective_weights_agree_with_numpy_and_add_up_to_one(book: ScoreBook) -> None:
    result = standings(book)
    found = effective_weights(result)
    contributions = np.array([[float(event.contribution or 0) for event in row.events] for row in result.rows])
    if found is None:
        assert len({row.total for row in result.rows}) == 1
        return
    assert sum(found.values()) == 1
    totals = contributions.sum(axis=1)
    expected = [np.cov(column, totals)[0, 1] / totals.var(ddof=1) for column in contributions.T]
    assert [float(value) for value in found.values()] == pytest.approx(expected)


def test_effective_weights_of_one_squad_or_of_equal_totals_cannot_be_computed() -> None:
    assert effective_weights(standings(counted_book([[5, 5]], [1, 1]))) is None
    assert effective_weights(standings(counted_book([[5, 4], [4, 5]], [1, 1]))) is None


# The smallest change


def test_the_smallest_change_can_be_checked_by_hand() -> None:
    """64 against 62; every unit of weight that moves to event 2 costs squad 1 its lead there of 30, and 40 more."""
    result = standings(counted_book([[80, 40], [50, 80]], [60, 40]))
    found = smallest_change(result)
    assert found is not None
    assert (found.loses, found.gains) == (1, 2)
    assert found.shift == Fraction(2, 70)
    assert found.weights == {"e1": Fraction(3, 5) - Fraction(2, 70), "e2": Fraction(2, 5) + Fraction(2, 70)}


@given(counted_books(least_events=2))
def test_the_smallest_change_agrees_with_linear_programming(book: ScoreBook) -> None:
    result = standings(book)
    found = smallest_change(result)
    if result.straddle is not None:
        assert found is not None
        assert found.shift == 0
        return
    points, weights = points_of(result), np.array([float(weight) for weight in result.weights.values()])
    events, best = len(weights), np.inf
    for holder in result.placed:
        for other in points.keys() - set(result.placed):
            gaps = np.array([float(a - b) for a, b in zip(points[holder], points[other], strict=True)])
            # up and down: what each event gains and loses; half of their sum moves
            solved = linprog(
                np.full(2 * events, 0.5),
                A_ub=[np.concatenate([gaps, -gaps])],
                b_ub=[-(weights @ gaps)],
                A_eq=[np.concatenate([np.ones(events), -np.ones(events)])],
                b_eq=[0],
                bounds=[(0, None)] * events + [(0, weight) for weight in weights],
            )
            best = min(best, solved.fun if solved.status == 0 else np.inf)
    assert (np.inf if found is None else float(found.shift)) == pytest.approx(best, abs=1e-9)


@given(counted_books(least_events=2))
def test_at_the_changed_weights_the_two_tie_exactly(book: ScoreBook) -> None:
    result = standings(book)
    found = smallest_change(result)
    if found is None or result.straddle is not None:
        return
    assert sum(found.weights.values()) == 1
    assert min(found.weights.values()) >= 0
    assert found.shift == sum(abs(found.weights[key] - weight) for key, weight in result.weights.items()) / 2
    moved = standings(with_weights(book, found.weights))
    assert moved.row(found.loses).total == moved.row(found.gains).total


def test_a_squad_ahead_in_every_event_keeps_its_place_under_any_weights() -> None:
    result = standings(counted_book([[9, 9], [5, 8]], [1, 1]))
    assert smallest_change(result) is None
    held = hold(result)
    assert held is not None
    assert held.exact == 1


# Change points


def test_change_points_give_the_worked_example() -> None:
    """Reference D3 (own, exact): composite w a + (1 - w) b; at a change point the neighbours tie."""
    example = reference("D3")
    table = list(zip(example["input"]["a"], example["input"]["b"], strict=True))
    found = change_points(standings(counted_book(table, [1, 1])))
    assert found is not None
    assert [(part.start, part.end, [squad - 1 for squad in part.squads]) for part in found] == [
        (Fraction(start), Fraction(end), winners) for start, end, winners in example["expected"]["segments"]
    ]


@given(counted_books(least_events=2, most_events=2), st.fractions(0, 1, max_denominator=97))
def test_within_a_segment_its_squads_hold_the_places(book: ScoreBook, share: Fraction) -> None:
    segments = change_points(standings(book))
    assert segments is not None
    assert [segments[0].start, segments[-1].end] == [0, 1]
    part = next((part for part in segments if part.start < share < part.end), None)
    if part is None:
        return
    there = standings(with_weights(book, {"e1": share, "e2": 1 - share}))
    tied = there.straddle.squads if there.straddle is not None else ()
    assert set(part.squads) == {*there.placed, *tied}


def test_change_points_are_for_two_events() -> None:
    assert change_points(standings(counted_book([[1], [2]], [1]))) is None
    assert change_points(standings(counted_book([[1, 2, 3]], [1, 1, 1]))) is None


def test_a_tie_that_a_run_off_decided_is_a_change_of_nothing() -> None:
    book = counted_book([[80, 40], [40, 80]], [1, 1])
    extra = tuple(attempt(squad, "e1.m", core=squad, run_off=True, id=70 + squad) for squad in (1, 2))
    result = standings(book.model_copy(update={"attempts": (*book.attempts, *extra)}))
    assert result.placed == (2,)
    found = smallest_change(result)
    assert found is not None
    assert found.shift == 0
    assert (found.loses, found.gains) == (2, 1)

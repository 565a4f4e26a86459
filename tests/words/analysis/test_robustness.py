"""The sentences about the gap, and about what decides, held against what they say."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import Phase, settings
from hypothesis import strategies as st

from bot.rules.analysis.robustness import closeness, firmness
from bot.rules.scoring.standings import standings
from bot.words.analysis.robustness import closeness_line, effective_line
from bot.words.core.lists_in_text import listing
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_placing_bootstrap import judged
from tests.rules.analysis.test_robustness import judged_book
from tests.rules.books import attempt, counted_book

TRIES = settings(max_examples=30, deadline=None, phases=[Phase.generate])


def seen(book: ScoreBook) -> ResultView:
    return ResultView(book, standings(book))


def holders(book: ScoreBook) -> tuple[set[int], set[int]]:
    result = standings(book)
    return set(result.placed), set() if result.straddle is None else set(result.straddle.squads)


@st.composite
def panels(draw: st.DrawFn) -> ScoreBook:
    """Few judges, some of them without a sheet for some squads, and counts beside."""
    width, height = draw(st.integers(1, 4)), draw(st.integers(2, 4))
    mark = st.integers(1, 4) | st.none()
    table = draw(st.lists(st.lists(mark, min_size=width, max_size=width), min_size=height, max_size=height))
    counts = draw(st.lists(st.integers(0, 60), min_size=height, max_size=height))
    weights = draw(st.lists(st.sampled_from([1, 2, 0]), min_size=width, max_size=width))
    rule = draw(st.sampled_from(["mean", "median", "adjusted"]))
    book = judged(table, counts, weights, rule, draw(st.sampled_from(["maximum", "best"])))
    return book.model_copy(update={"plan": book.plan.model_copy(update={"places": draw(st.integers(1, 2))})})


def test_what_decided_an_equal_total_is_named_and_no_other_thing() -> None:
    tied = counted_book([[9, 5], [5, 9]], [1, 1])
    extra = tuple(attempt(squad, "e1.m", core=squad, run_off=True, id=70 + squad) for squad in (1, 2))
    by_run_off = seen(tied.model_copy(update={"attempts": (*tied.attempts, *extra)}))
    said = closeness_line(by_run_off, firmness(by_run_off.book, by_run_off.standings))
    assert said.startswith("**Squad 2** and **Squad 1** have the same total; decided by ")
    assert "run-off" in said
    by_plan = seen(tied.model_copy(update={"plan": tied.plan.model_copy(update={"tie_breaks": ("e1",)})}))
    said = closeness_line(by_plan, firmness(by_plan.book, by_plan.standings))
    assert said.startswith("**Squad 1** and **Squad 2** have the same total; decided by ")
    assert "run-off" not in said
    still = seen(tied)
    assert closeness_line(still, firmness(tied, still.standings)) == ""


def test_names_with_an_and_in_them_stay_whole() -> None:
    assert listing(["cut and paste", "shape", "colour"], "or") == "cut and paste, shape or colour"


@pytest.mark.parametrize("spread", [1.0, 3.0])
def test_the_judges_differences_move_the_gap_by_as_much_as_is_said(spread: float) -> None:
    """Simulated: 5 judges mark 6 squads again and again; the gap of two squads scatters by the error that is told."""
    chance = np.random.default_rng(5)
    true = np.array([24, 22, 18, 15, 12, 9])[:, None] + np.array([0, 2, -2, 1, -1])[None, :]
    gaps: list[float] = []
    errors: list[float] = []
    for _ in range(150):
        marks: Sequence[Sequence[int]] = (
            np.clip(np.rint(true + chance.normal(0, spread, true.shape)), 1, 40).astype(int).tolist()
        )
        book = judged_book(marks)
        result = standings(book)
        first, second = result.row(1).total, result.row(2).total
        near = closeness(book.plan, result)
        assert first is not None
        assert second is not None
        assert near is not None
        assert near.error is not None
        gaps.append(float(first - second))
        errors.append(near.error)
    assert np.mean(errors) == pytest.approx(np.std(gaps), rel=0.2)


def test_of_two_squads_no_share_in_the_differences_is_told() -> None:
    two = counted_book([[90, 10], [30, 60]], [1, 1])
    assert effective_line(seen(two), firmness(two, standings(two))) == ""
    three = counted_book([[90, 10], [30, 60], [20, 20]], ["62.5", "37.5"])
    # By hand: cov(e1, total) / var(total) = 861.98 / 801.04.
    said = effective_line(seen(three), firmness(three, standings(three)))
    assert "e1 108 % (weight 62.5) and e2 -8 % (weight 37.5)" in said

"""Each sentence about firmness, held against what it says: drawn weights, judges left out, draws made one by one."""

import re
from collections.abc import Sequence
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from bot.rules.analysis.placing_bootstrap import judge_bootstrap
from bot.rules.analysis.robustness import closeness, firmness
from bot.rules.analysis.what_if import with_weights, without_judge
from bot.rules.scoring.standings import standings
from bot.words.analysis.placing_bootstrap import bootstrap_lines
from bot.words.analysis.robustness import closeness_line
from bot.words.analysis.single_changes import trial_line
from bot.words.analysis.weights_text import hold_line, weights_line
from bot.words.core.number_text import percent
from bot.words.core.plain_text import listing
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_placing_bootstrap import draws_one_by_one, judged, marking
from tests.rules.analysis.test_robustness import judged_book
from tests.rules.analysis.test_weight_reach import excused_books
from tests.rules.books import attempt, counted_book, event, plan

TRIES = settings(max_examples=30, deadline=None, phases=[Phase.generate])


def seen(book: ScoreBook) -> ResultView:
    return ResultView(book, standings(book))


def holders(book: ScoreBook) -> tuple[set[int], set[int]]:
    result = standings(book)
    return set(result.placed), set() if result.straddle is None else set(result.straddle.squads)


def drawn_weights(book: ScoreBook, seed: int, times: int = 20) -> list[dict[str, Fraction]]:
    """Weights from all over, none of them 0."""
    chance = np.random.default_rng(seed)
    found = []
    for _ in range(times):
        shares = chance.dirichlet(np.full(len(book.plan.events), 0.5))
        found.append(
            {e.key: Fraction(int(10**6 * s) + 1) for e, s in zip(book.plan.events, shares.tolist(), strict=True)}
        )
    return found


@TRIES
@given(excused_books(most_events=3, most_squads=4), st.integers(0, 99))
def test_what_is_said_of_weights_is_true_of_drawn_weights(book: ScoreBook, seed: int) -> None:
    result = seen(book)
    if not result.standings.rows:
        return
    firm = firmness(book, result.standings)
    said = weights_line(result, firm)
    now = holders(book)
    for weights in drawn_weights(book, seed):
        other = with_weights(book, weights)
        if said.startswith("No other weights"):
            assert holders(other) == now
        if "No other weights would put" in said or "no other weights would put" in said:
            name = re.findall(r"o other weights would put \*\*Squad (\d)\*\* ahead", said)[0]
            assert firm.weights is not None
            totals = {row.squad_id: row.total or Fraction(0) for row in standings(other).rows}
            assert totals[int(name)] <= totals[firm.weights.loses]
        if "every single one." in hold_line(result, firm):
            assert holders(other) == now


def test_each_case_of_weights_has_its_own_sentence() -> None:
    def said(book: ScoreBook) -> str:
        result = seen(book)
        return weights_line(result, firmness(book, result.standings))

    assert said(counted_book([[9, 9], [5, 8]], [1, 1])) == "No other weights of the events would move the place."
    assert said(counted_book([[9, 5], [5, 9]], [1, 1])) == (
        "The last place is tied with these weights. Other weights would part **Squad 1** and **Squad 2**."
    )
    assert said(counted_book([[9, 5], [9, 5]], [1, 1])) == (
        "The last place is tied with these weights. No other weights would part **Squad 1** and **Squad 2**."
    )
    assert "**Squad 2** ties with **Squad 1** (e1 75.0 to 100.0, e2 25.0 to 0.0). No other weights would put" in said(
        counted_book([[9, 9], [9, 8]], [3, 1])
    )
    assert "before **Squad 2** reaches **Squad 1** (" in said(counted_book([[9, 5], [5, 8]], [1, 1]))
    extra = tuple(attempt(squad, "e1.m", core=squad, run_off=True, id=70 + squad) for squad in (1, 2))
    tied = counted_book([[9, 5], [5, 9]], [1, 1])
    decided = tied.model_copy(update={"attempts": (*tied.attempts, *extra)})
    assert said(decided) == (
        "**Squad 2** and **Squad 1** have the same total with these weights; other weights would put **Squad 1** ahead."
    )
    assert said(counted_book([[9], [5]], [1])) == ""


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


@TRIES
@given(panels())
def test_what_is_said_of_each_judge_is_true_without_that_judge(book: ScoreBook) -> None:
    result = seen(book)
    ranked = {row.squad_id for row in result.standings.rows}
    said = trial_line(result, firmness(book, result.standings), "judge")
    now = holders(book)
    alike: list[int] = []
    for judge in marking(book):
        other = without_judge(book, judge)
        then, left = holders(other), ranked - {row.squad_id for row in standings(other).rows}
        sentences = [one for one in re.split(r"(?<=\.) ", said) if re.search(rf"judge {judge}\b", one)]
        told = " ".join(sentences)
        if (now[0] | now[1]) & left:
            assert "it cannot be told" in told
        elif then == now:
            assert "would hold" not in told
            assert "cannot be told" not in told
            alike.append(judge)
        else:
            names = {int(name) for one in sentences if "would" in one for name in re.findall(r"Squad (\d)", one)}
            assert then[0] | then[1] <= names
            assert ("would tie" in told) == bool(then[1])
        if left:
            assert all(f"Squad {squad}" in told for squad in left) or f"{len(left)} squads" in told
        for reason, words in (("unconnected", "for want of a chain"), ("no_sheet", "no sheet left")):
            if reason in {gap.kind for squad, gap in standings(other).gaps if squad in left} and len(left) == 1:
                assert words in told
    if len(alike) > 1:
        assert re.search(rf"any one of the (other )?{len(alike)} judges", said)


@TRIES
@given(panels())
def test_what_is_said_of_drawn_judges_is_true_of_draws_made_one_by_one(book: ScoreBook) -> None:
    result = seen(book)
    if not result.standings.rows or not result.standings.complete:
        return
    said = bootstrap_lines(result, judge_bootstrap(book))
    if len(marking(book)) < 2:
        assert said == "With fewer than two judges there is no other draw of them to try."
        return
    share, usable = draws_one_by_one(book)
    if not usable:
        assert said.startswith("No other draw of the same judges gives every squad a judge")
        return
    for squad, part in share.items():
        assert (f"Squad {squad} {percent(part)}" in said) == (part > 0)
    assert ("Not counted are" in said) == (usable < 1)


def test_more_judges_than_can_be_gone_through_are_drawn_and_it_says_how_sure_that_is() -> None:
    book = judged_book([[9, 8, 9, 3, 4, 8, 9], [8, 9, 8, 9, 9, 4, 4]])
    said = bootstrap_lines(seen(book), judge_bootstrap(book))
    assert "These are 500 draws, so a share may be off by up to 5 points (95 % level)." in said
    assert "about" in said


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


def test_a_scale_that_cannot_be_tried_says_why() -> None:
    book = counted_book([[5], [4]], [1])
    bare = event("e1", *[m.model_copy(update={"maximum": None, "scale": "best"}) for m in book.plan.events[0].measures])
    result = seen(book.model_copy(update={"plan": plan(bare)}))
    said = trial_line(result, firmness(result.book, result.standings), "scale")
    assert "Scored as percent of the maximum it cannot be told: the plan gives a measure no maximum." in said
    assert "On any of the other 3 scales the place stays where it is." in said


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

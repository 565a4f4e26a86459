"""What is said of other weights, held against drawn weights."""

import re
from fractions import Fraction

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.analysis.robustness import firmness
from bot.rules.analysis.what_if import with_weights
from bot.rules.scoring.standings import standings
from bot.words.analysis.weight_changes import hold_line, weights_line
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_weight_reach import excused_books
from tests.rules.books import attempt, counted_book
from tests.words.analysis.test_robustness import TRIES, holders, seen


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

"""Kendall's W with ties, against published examples."""

from fractions import Fraction

import pytest
from hypothesis import assume, given

from bot.rules.analysis.kendall_w import DRAWS, _drawn, chance, kendall_w, null_distribution
from tests.rules.random_mark_tables import Table, tables
from tests.rules.reference import reference


@pytest.mark.parametrize("name", ["A5", "A6"])
def test_w_gives_the_published_examples(name: str) -> None:
    """Reference A5 (Siegel 1956) and A6 (Kendall 1948, with ties)."""
    example = reference(name)
    expected = example["expected"]
    found = kendall_w(example["input"]["ratings"])
    assert found is not None
    assert list(found.rank_sums) == expected["rank_sums"]
    assert (found.s, found.ties) == (Fraction(expected["S"]), expected["tie_sum"])
    assert float(found.w) == pytest.approx(expected["W"], rel=1e-9)
    assert float(found.w) == pytest.approx(example["published"]["W"], abs=5e-3)
    drawn = chance(example["input"]["ratings"])
    assert drawn is not None
    assert not drawn.exact
    assert drawn.p == pytest.approx(expected["p_chi2"], abs=0.08)


@pytest.mark.parametrize("name", ["A7a", "A7b"])
def test_the_null_distribution_is_the_published_one_exactly(name: str) -> None:
    """Reference A7 (Friedman 1937; Siegel 1956, Table N)."""
    example = reference(name)
    m, n = example["input"]["judges"], example["input"]["squads"]
    found = null_distribution([[2 * rank for rank in range(1, n + 1)]] * m)
    assert found is not None
    upper = {s: sum(p for other, p in found.items() if other >= s) for s in found}
    assert {Fraction(s, 4 * n): p for s, p in upper.items()} == {
        Fraction(row["S"]): Fraction(row["p_at_least"]) for row in example["expected"]
    }


@given(tables(least=3, most=7))
def test_w_agrees_with_scipys_friedman_test(table: Table) -> None:
    from scipy import stats

    judged = [list(column) for column in zip(*table, strict=True)]
    found = kendall_w(judged)
    if found is None:
        assert all(len(set(row)) == 1 for row in judged)
        return
    m, n = len(judged), len(table)
    assume(n > 2)
    chi2, _ = stats.friedmanchisquare(*table)
    assert float(found.w) == pytest.approx(chi2 / (m * (n - 1)), abs=1e-10)
    assert 0 <= found.w <= 1
    by_lot = chance(judged)
    assert by_lot is not None
    assert 0 < by_lot.p <= 1


def test_the_probability_is_exact_where_few_orders_are_possible() -> None:
    """Reference A7b: S = 26 of four judges and three squads has p = 1/24."""
    ratings = [[1, 2, 3], [1, 2, 3], [1, 2, 3], [1, 3, 2]]
    found, by_lot = kendall_w(ratings), chance(ratings)
    assert found is not None
    assert by_lot is not None
    assert found.s == 26
    assert by_lot.exact
    assert by_lot.p == pytest.approx(1 / 24)


def test_drawn_orders_come_close_to_the_exact_probability() -> None:
    """Within four standard errors of the full enumeration (reference A7b: p = 5/72)."""
    ranks = [[2, 4, 6]] * 4
    exact = 5 / 72
    for seed in range(5):
        assert abs(_drawn(ranks, 24 * 12, seed) - exact) < 4 * (exact * (1 - exact) / DRAWS) ** 0.5


@pytest.mark.parametrize("table", [[], [[1, 2]], [[1], [2]], [[3, 3], [5, 5]]])
def test_w_of_too_little_cannot_be_computed(table: Table) -> None:
    assert kendall_w(table) is None
    assert chance(table) is None


def test_a_drawn_probability_has_its_own_error_and_an_exact_one_has_none() -> None:
    """Simulated: drawn again with other seeds, it scatters by the error that is told."""
    ratings = [[1, 2, 3, 4, 5, 6, 7, 8], [2, 1, 4, 3, 8, 5, 6, 7], [8, 1, 2, 3, 4, 5, 6, 7], [4, 3, 1, 2, 8, 7, 5, 6]]
    drawn = [chance(ratings, seed) for seed in range(60)]
    known = [one for one in drawn if one is not None and not one.exact]
    assert len(known) == 60
    mean = sum(one.p for one in known) / 60
    spread = (sum((one.p - mean) ** 2 for one in known) / 59) ** 0.5
    assert spread == pytest.approx(known[0].error, rel=0.35)
    exact = chance([[1, 2, 3], [1, 2, 3], [1, 3, 2]])
    assert exact is not None
    assert (exact.exact, exact.error) == (True, 0)

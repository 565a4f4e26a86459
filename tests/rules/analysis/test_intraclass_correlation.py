"""Intraclass correlation, against published examples."""

from fractions import Fraction
from importlib import import_module
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.analysis.agreement import RELIABLE
from bot.rules.analysis.intraclass_correlation import icc, judges_needed, spearman_brown
from tests.rules.random_mark_tables import Table, tables
from tests.rules.reference import reference


def test_all_six_forms_give_the_published_values_and_intervals() -> None:
    """Reference A4 (Shrout and Fleiss 1979, Tables 2 to 4; intervals as printed by psych::ICC)."""
    example = reference("A4")
    found = icc(example["input"]["table"])
    assert found is not None
    expected = example["expected"]
    for name, value in expected["icc"].items():
        assert getattr(found, name.lower()).value == pytest.approx(value, rel=1e-9)
        assert getattr(found, name.lower()).value == pytest.approx(example["published"][name], abs=5e-3)
    for name, ends in expected["ci95"].items():
        assert getattr(found, name.lower()).interval == pytest.approx(ends, rel=1e-8)
    squares = found.mean_squares
    assert {
        "between": squares.squads,
        "within": squares.within,
        "judges": squares.judges,
        "error": squares.error,
    } == pytest.approx(expected["MS"], rel=1e-9)


def test_cronbachs_alpha_of_the_same_table_is_the_third_form() -> None:
    """Reference A10 (Bland and Altman 1997) gives the identity: alpha with judges as items is ICC(3,k)."""
    table = np.array(reference("A4")["input"]["table"], dtype=float)
    k = table.shape[1]
    cronbach = k / (k - 1) * (1 - table.var(axis=0, ddof=1).sum() / table.sum(axis=1).var(ddof=1))
    found = icc(table.tolist())
    assert found is not None
    assert found.icc3k.value == pytest.approx(cronbach)


def test_four_judges_of_one_half_make_four_fifths() -> None:
    """Reference A12 (Spearman 1910, Brown 1910)."""
    example = reference("A12")
    single = float(Fraction(example["input"]["single"]))
    expected = float(Fraction(example["expected"]["mean_of_k"]))
    assert spearman_brown(single, example["input"]["judges"]) == pytest.approx(expected)


@pytest.mark.filterwarnings("ignore")
def test_the_forms_agree_with_pingouin_on_random_tables() -> None:
    """Its intervals are printed to two decimals."""
    import pingouin

    pandas: Any = import_module("pandas")
    chance = np.random.default_rng(11)
    for n, k in ((3, 2), (6, 4), (10, 3), (14, 6)):
        table = chance.normal(0, 3, (n, 1)) + chance.normal(0, 2, (1, k)) + chance.normal(0, 2, (n, k))
        long = pandas.DataFrame(
            [(s, j, table[s, j]) for s in range(n) for j in range(k)], columns=["squad", "judge", "mark"]
        )
        rows = pingouin.intraclass_corr(long, targets="squad", raters="judge", ratings="mark")
        expected = {row["Type"]: row for _, row in rows.iterrows()}
        found = icc(table.tolist())
        assert found is not None
        names = dict(zip(("icc1", "icc2", "icc3", "icc1k", "icc2k", "icc3k"), rows["Type"], strict=True))
        for name, label in names.items():
            assert getattr(found, name).value == pytest.approx(expected[label]["ICC"], rel=1e-6)
            ends = next(value for key, value in expected[label].items() if str(key).startswith("CI95"))
            assert getattr(found, name).interval == pytest.approx(tuple(ends), abs=0.0051)


@pytest.mark.parametrize("table", [[], [[3, 4]], [[3], [4]], [[4, 4], [4, 4]]])
def test_the_correlation_of_too_little_cannot_be_computed(table: Table) -> None:
    assert icc(table) is None


def test_judges_who_agree_exactly_have_one_and_no_interval() -> None:
    found = icc([[3, 3], [5, 5], [7, 7]])
    assert found is not None
    assert (found.icc2.value, found.icc2.interval, found.icc3.value, found.icc1k.value) == (1.0, None, 1.0, 1.0)


@given(tables())
def test_no_coefficient_is_ever_not_a_number(table: Table) -> None:
    found = icc(table)
    if found is not None:
        for name in ("icc1", "icc2", "icc3", "icc1k", "icc2k", "icc3k"):
            coefficient = getattr(found, name)
            numbers = [coefficient.value or 0.0, *(coefficient.interval or ())]
            assert all(np.isfinite(numbers))


@given(tables(), st.integers(-50, 50), st.fractions(Fraction(1, 9), 9))
def test_the_correlation_does_not_depend_on_zero_and_unit(table: Table, zero: int, unit: Fraction) -> None:
    found, moved = icc(table), icc([[zero + unit * value for value in row] for row in table])
    assert (found is None) == (moved is None)
    if found is not None and moved is not None:
        assert found.icc2.value == pytest.approx(moved.icc2.value)


@pytest.mark.parametrize(
    ("single", "needed"), [(0.28976, 10), (0.71484, 2), (0.5, 4), (0.95, 1), (0.0, None), (-0.2, None)]
)
def test_the_judges_needed_for_a_reliable_mean(single: float, needed: int | None) -> None:
    """Reference A12 (Spearman 1910, Brown 1910): 9.80, 1.60, and 4 exactly, which a float must not push to 5."""
    assert judges_needed(single, RELIABLE) == needed
    if needed is not None:
        assert spearman_brown(single, needed) >= RELIABLE - 1e-9
        assert needed == 1 or spearman_brown(single, needed - 1) < RELIABLE

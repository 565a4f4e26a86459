"""Correlation, spread and intervals, against published numbers and another library."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.analysis.estimates import correlation, reach, standard_deviation
from tests.rules.reference import reference


def test_correlation_gives_the_published_jackknife() -> None:
    """Reference D1 (Efron and Tibshirani 1993, law-school data): r and all its leave-one-out values."""
    example = reference("D1")
    xs, ys = example["input"]["x"], example["input"]["y"]
    assert correlation(xs, ys) == pytest.approx(example["expected"]["r"])
    assert correlation(xs, ys) == pytest.approx(example["published"]["r"], abs=5e-4)
    left_out = [correlation(xs[:i] + xs[i + 1 :], ys[:i] + ys[i + 1 :]) for i in range(len(xs))]
    assert left_out == pytest.approx(example["expected"]["leave_one_out"])


@given(st.lists(st.tuples(st.integers(-9, 9), st.integers(-9, 9)), max_size=9))
def test_correlation_and_spread_agree_with_numpy_where_they_exist(pairs: list[tuple[int, int]]) -> None:
    xs, ys = [float(x) for x, _ in pairs], [float(y) for _, y in pairs]
    found = correlation(xs, ys)
    if len(pairs) > 2 and len(set(xs)) > 1 and len(set(ys)) > 1:
        assert found == pytest.approx(np.corrcoef(xs, ys)[0, 1])
    else:
        assert found is None
    spread = standard_deviation(xs)
    assert spread == (None if len(xs) < 2 else pytest.approx(np.std(xs, ddof=1)))


@pytest.mark.parametrize(("freedom", "t"), [(1, 12.706), (2, 4.303), (4, 2.776), (10, 2.228), (30, 2.042)])
def test_intervals_reach_as_far_as_students_table_says(freedom: int, t: float) -> None:
    """Student's t, two-sided 5 %: the table of any handbook of statistics (from memory)."""
    assert reach(2.0, freedom) == pytest.approx(2 * t, rel=2e-4)

"""Krippendorff's alpha, against published examples."""

from collections.abc import Sequence

import krippendorff
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.analysis.krippendorff_alpha import Level, alpha, alphas, alphas_with_intervals, tabulate
from tests.rules.reference import reference

LEVELS: tuple[Level, ...] = ("nominal", "ordinal", "interval", "ratio")


def by_squad(ratings: Sequence[Sequence[float | None]]) -> list[list[float]]:
    """Judges in rows, as the examples print them, to the values of each squad."""
    return [[value for value in column if value is not None] for column in zip(*ratings, strict=True)]


@pytest.mark.parametrize("name", ["A1", "A2a", "A2b", "A3a", "A3b", "A3c"])
def test_alpha_gives_the_published_examples(name: str) -> None:
    """Reference A1 and A2 (Krippendorff 2011), A3 (own edges: undefined is None, never 0 or 1)."""
    example = reference(name)
    ratings = by_squad(example["input"]["ratings"])
    for level in example["input"].get("levels", LEVELS):
        expected = example["expected"][level]
        assert alpha(ratings, level) == (None if expected is None else pytest.approx(expected, rel=1e-9))
        if "published" in example:
            assert alpha(ratings, level) == pytest.approx(example["published"][level], abs=5e-4)
    paired = [values for values in ratings if len(values) > 1]
    assert sum(map(len, paired)) == example["expected"]["pairable_values"]


def test_a_squad_with_one_mark_plays_no_part() -> None:
    """Reference A1: copies differ in who gave the lone mark of unit 12; it must change nothing."""
    ratings = by_squad(reference("A1")["input"]["ratings"])
    for level in LEVELS:
        assert alpha(ratings, level) == alpha([*ratings[:-1], [1.0]], level) == alpha(ratings[:-1], level)


@given(
    st.lists(st.lists(st.one_of(st.none(), st.integers(1, 6)), min_size=4, max_size=4), min_size=2, max_size=9),
    st.sampled_from(LEVELS),
)
def test_alpha_agrees_with_the_reference_library(table: list[list[int | None]], level: Level) -> None:
    ratings = [[float(value) for value in row if value is not None] for row in table]
    paired = [value for values in ratings if len(values) > 1 for value in values]
    if len(set(paired)) < 2:
        assert alpha(ratings, level) is None
        return
    data = np.array([[np.nan if value is None else value for value in row] for row in table], dtype=float).T
    expected = krippendorff.alpha(reliability_data=data, level_of_measurement=level)
    assert alpha(ratings, level) == pytest.approx(expected, abs=1e-10)


def test_several_criteria_at_once_are_each_as_if_alone() -> None:
    chance = np.random.default_rng(5)
    owners = [0, 0, 0, 1, 1, 2, 2, 2, 3, 4, 4]
    marks = chance.integers(1, 5, (len(owners), 3)).tolist()
    for level in LEVELS:
        alone = [
            alpha(
                [[row[k] for row, who in zip(marks, owners, strict=True) if who == squad] for squad in range(5)], level
            )
            for k in range(3)
        ]
        assert alphas(owners, marks, level) == pytest.approx(alone)


@pytest.mark.parametrize("level", LEVELS)
def test_the_bootstrap_interval_agrees_with_resampling_by_hand(level: Level) -> None:
    """The same drawn squads, written out and given to the reference library one by one."""
    table = np.random.default_rng(8).integers(1, 6, (10, 4))
    owners = [squad for squad in range(10) for _ in range(4)]
    tabulated = tabulate(owners, [(int(value),) for value in table.ravel()])
    [found] = alphas_with_intervals(tabulated, level, seed=3, resamples=200)
    drawn = []
    for times in np.random.default_rng(3).multinomial(10, np.full(10, 0.1), size=200):
        data = np.repeat(table, times, axis=0).T
        drawn.append(krippendorff.alpha(reliability_data=data, level_of_measurement=level))
    assert found.interval == pytest.approx(tuple(np.quantile(drawn, (0.025, 0.975))))
    assert alphas_with_intervals(tabulated, level, seed=3, resamples=200) == [found]


def test_where_resamples_are_often_undefined_there_is_no_interval() -> None:
    tabulated = tabulate([0, 0, 1, 1, 2, 2], [(1,), (1,), (1,), (1,), (1,), (2,)])
    [found] = alphas_with_intervals(tabulated, "interval", seed=1, resamples=300)
    assert found.value is not None
    assert found.interval is None

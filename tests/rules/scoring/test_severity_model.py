"""Harsh and lenient judges evened out: worked examples, published errors, panels that fall into parts."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.analysis.standard_errors import precision
from bot.rules.core.refusal import Refusal
from bot.rules.scoring.severity_model import Fit, Observation, fit
from tests.rules.reference import reference


def numbered(sheets: Sequence[Sequence[Any]]) -> list[Observation]:
    """`["S4", "J2", 34]` as squad 4, judge 2, value 34."""
    return [Observation(int(squad[1:]), int(judge[1:]), Fraction(value)) for squad, judge, value in sheets]


def as_expected(values: dict[str, str]) -> dict[int, Fraction]:
    return {int(name[1:]): Fraction(value) for name, value in values.items()}


def by_order(fitted: Fit) -> list[int]:
    return sorted(fitted.adjusted, key=lambda squad: -fitted.adjusted[squad])


@st.composite
def panels(draw: st.DrawFn) -> list[Observation]:
    """A panel in which some judges saw some squads; connected or not."""
    squads, judges = draw(st.integers(1, 6)), draw(st.integers(1, 5))
    cells = [(squad, judge) for squad in range(1, squads + 1) for judge in range(1, judges + 1)]
    chosen = draw(st.lists(st.sampled_from(cells), min_size=1, unique=True))
    return [Observation(*cell, draw(st.fractions(0, 40, max_denominator=4))) for cell in chosen]


@pytest.mark.parametrize("name", ["C1", "C2", "C4"])
def test_the_fit_gives_the_worked_example_exactly(name: str) -> None:
    """Reference C1 (Montgomery, balanced incomplete blocks), C2 and C4 (own)."""
    example = reference(name)
    expected = example["expected"]
    fitted = fit(numbered(example["input"]["obs"]))
    assert fitted.adjusted == as_expected(expected["adjusted"])
    assert fitted.effects == as_expected(expected["judge_leniency"])
    assert (fitted.residual, fitted.freedom) == (Fraction(expected["sse"]), expected["df_resid"])
    assert by_order(fitted) == [int(squad[1:]) for squad in expected["order_adjusted"]]
    assert fitted.connected


def test_a_panel_in_two_parts_is_named_and_compared_only_within_them() -> None:
    """Reference C3 (own; criterion of Bose 1949, Eccleston and Hedayat 1974)."""
    example = reference("C3")
    sheets = numbered(example["input"]["obs"])
    fitted = fit(sheets)
    assert not fitted.connected
    assert [[f"S{squad}" for squad in part.squads] for part in fitted.parts] == example["expected"]["squad_components"]
    more = [*sheets, Observation(2, 2, Fraction(9))]
    errors = precision(more, fit(more))
    assert errors is not None
    assert errors.difference(1, 3) is None
    assert errors.difference(1, 2) is not None


@pytest.mark.parametrize("dropped", ["J1", "J2", "J3", "J4"])
def test_leaving_one_judge_out_of_the_fit_gives_the_worked_example(dropped: str) -> None:
    """Reference C5 (own): without judge 4 the first two change places."""
    example = reference("C5")
    expected = example["expected"]["drop"][dropped]
    fitted = fit(numbered([sheet for sheet in example["input"]["obs"] if sheet[1] != dropped]))
    assert fitted.adjusted == as_expected(expected["adjusted"])
    assert [f"S{squad}" for squad in by_order(fitted)] == expected["order_adjusted"]
    assert fitted.connected == expected["connected"]


@given(panels())
def test_the_fit_agrees_with_statsmodels_and_its_standard_errors(sheets: list[Observation]) -> None:
    """Least squares on dummy columns, the first judge of each part being the base; contrasts do not depend on that."""
    from statsmodels.regression.linear_model import OLS

    fitted = fit(sheets)
    squads = list(fitted.adjusted)
    judges = [judge for part in fitted.parts for judge in part.judges[1:]]
    design = np.zeros((len(sheets), len(squads) + len(judges)))
    for line, (squad, judge, _) in enumerate(sheets):
        design[line, squads.index(squad)] = 1
        if judge in judges:
            design[line, len(squads) + judges.index(judge)] = 1
    model = OLS(np.array([float(value) for *_, value in sheets]), design).fit()
    assert float(fitted.residual) == pytest.approx(model.ssr, abs=1e-7)
    assert fitted.freedom == round(model.df_resid)
    errors = precision(sheets, fitted)
    for part in fitted.parts:
        for one, other in zip(part.squads, part.squads[1:], strict=False):
            contrast = np.zeros(design.shape[1])
            contrast[squads.index(one)], contrast[squads.index(other)] = 1, -1
            assert float(fitted.adjusted[one] - fitted.adjusted[other]) == pytest.approx(
                float(contrast @ model.params), abs=1e-8
            )
            if errors is not None:
                expected = float(contrast @ model.cov_params() @ contrast) ** 0.5
                assert errors.difference(one, other) == pytest.approx(expected, abs=1e-6)
        whole = np.zeros(design.shape[1])
        whole[squads.index(part.squads[0])] = 1
        whole[[len(squads) + judges.index(judge) for judge in part.judges[1:]]] = 1 / len(part.judges)
        assert float(fitted.adjusted[part.squads[0]]) == pytest.approx(float(whole @ model.params), abs=1e-8)
        if errors is not None:
            expected = float(whole @ model.cov_params() @ whole) ** 0.5
            assert errors.squads[part.squads[0]] == pytest.approx(expected, abs=1e-6)


@given(st.integers(1, 6), st.integers(1, 5), st.data())
def test_on_complete_data_the_adjusted_mean_is_the_plain_mean(squads: int, judges: int, data: st.DataObject) -> None:
    weights = {judge: data.draw(st.fractions(Fraction(1, 4), 5)) for judge in range(judges)}
    table = [[data.draw(st.integers(1, 60)) for _ in range(judges)] for _ in range(squads)]
    sheets = [Observation(s, j, Fraction(value)) for s, row in enumerate(table) for j, value in enumerate(row)]
    plain = fit(sheets)
    assert [plain.adjusted[squad] for squad in range(squads)] == [Fraction(sum(row), judges) for row in table]
    heavy = fit(sheets, weights)
    whole = sum(weights.values())
    assert [heavy.adjusted[squad] for squad in range(squads)] == [
        sum(weights[judge] * value for judge, value in enumerate(row)) / whole for row in table
    ]


@given(panels(), st.integers(1, 5), st.fractions(-20, 20))
def test_a_judge_who_gives_everybody_more_changes_no_difference(
    sheets: list[Observation], judge: int, more: Fraction
) -> None:
    lenient = [each._replace(value=each.value + more) if each.judge == judge else each for each in sheets]
    before, after = fit(sheets), fit(lenient)
    assert before.residual == after.residual
    for part in before.parts:
        first = part.squads[0]
        for squad in part.squads:
            assert before.adjusted[squad] - before.adjusted[first] == after.adjusted[squad] - after.adjusted[first]


@given(panels(), st.randoms(use_true_random=False))
def test_the_order_of_sheets_does_not_matter(sheets: list[Observation], chance: Any) -> None:
    shuffled = list(sheets)
    chance.shuffle(shuffled)
    assert fit(shuffled) == fit(sheets)


@given(panels())
def test_judge_effects_sum_to_zero_within_each_part(sheets: list[Observation]) -> None:
    fitted = fit(sheets)
    for part in fitted.parts:
        assert sum(fitted.effects[judge] for judge in part.judges) == 0


@pytest.mark.parametrize(
    ("reason", "sheets", "weights"),
    [
        ("panel_empty", [], {}),
        ("mark_twice", [Observation(1, 1, Fraction(3)), Observation(1, 1, Fraction(4))], {}),
        ("judge_weight", [Observation(1, 1, Fraction(3))], {1: Fraction(0)}),
    ],
)
def test_a_panel_that_makes_no_sense_is_refused(
    reason: str, sheets: list[Observation], weights: dict[int, Fraction]
) -> None:
    with pytest.raises(Refusal, match=reason):
        fit(sheets, weights)


def test_one_judge_and_one_squad_are_a_panel_too() -> None:
    fitted = fit([Observation(1, 1, Fraction(7))])
    assert (fitted.adjusted, fitted.effects) == ({1: Fraction(7)}, {1: Fraction(0)})
    assert (fitted.residual, fitted.freedom) == (Fraction(0), 0)

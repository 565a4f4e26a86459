"""How sure a fitted panel is, against published standard errors and by drawn panels."""

from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest

from bot.rules.analysis.confidence_intervals import reach
from bot.rules.analysis.standard_errors import precision
from bot.rules.scoring.severity_model import Observation, fit
from tests.rules.reference import reference
from tests.rules.scoring.test_severity_model import numbered


def test_the_standard_error_of_a_difference_is_the_published_one() -> None:
    """Reference C1: variance of a difference of two adjusted means 2 k s^2 / (lambda v) = 0.4875."""
    sheets = numbered(reference("C1")["input"]["obs"])
    errors = precision(sheets, fit(sheets))
    assert errors is not None
    assert errors.difference(1, 4) == pytest.approx(0.4875**0.5)
    assert errors.difference(2, 2) == 0


def test_without_a_spare_degree_of_freedom_there_is_no_standard_error() -> None:
    sheets = numbered(reference("C4")["input"]["obs"])
    assert fit(sheets).spread is None
    assert precision(sheets, fit(sheets)) is None


def test_intervals_hold_the_true_gap_as_often_as_they_say() -> None:
    """Two judges, three squads, so two degrees of freedom: 600 drawn panels, 95 % give or take 2.7 (three errors)."""
    chance = np.random.default_rng(5)
    inside = 0
    for _ in range(600):
        inside += _holds(20 + np.array([[6], [3], [0]]) + chance.normal(0, 1, (3, 2)))
    assert abs(inside / 600 - 0.95) < 0.027


def _holds(marks: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> bool:
    sheets = [
        Observation(squad, judge, Fraction(Decimal(repr(round(float(value), 6)))))
        for squad, row in enumerate(marks)
        for judge, value in enumerate(row)
    ]
    fitted = fit(sheets)
    found = precision(sheets, fitted)
    assert found is not None
    error = found.difference(0, 1)
    assert error is not None
    return abs(float(fitted.adjusted[0] - fitted.adjusted[1]) - 3) <= reach(error, fitted.freedom)

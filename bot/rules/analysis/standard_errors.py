"""How sure a fitted panel is: standard errors of adjusted means and judge effects, in sheet points.

The usual covariance of least-squares estimates, residual variance x inverse of the normal equations, under the same
condition as the fit (weighted judge effects sum to 0 in each part). Floats: these are shown, never ranked by.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from typing import TYPE_CHECKING

from bot.rules.scoring.severity_model import ONE, Fit, Observation

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True, eq=False)
class Precision:
    """Standard errors of one fitted panel."""

    squads: Mapping[int, float]
    """By squad: of its adjusted mean."""
    effects: Mapping[int, float]
    """By judge: of the judge's effect."""
    _part_of: Mapping[int, int]
    _row: Mapping[int, int]
    _loads: "NDArray[np.float64]"
    """Squads x judges: each judge's share of the squad's panel."""
    _own: "NDArray[np.float64]"
    """By squad: variance of its own mean, given the judge effects."""
    _shared: "NDArray[np.float64]"
    """Judges x judges: covariance of the judge effects."""

    def difference(self, one: int, other: int, factors: tuple[float, float] = (1.0, 1.0)) -> float | None:
        """The standard error of the difference of two squads' adjusted means, each times its factor.

        None where they cannot be compared.
        """
        if self._part_of[one] != self._part_of[other]:
            return None
        if one == other:
            return 0.0
        first, second = self._row[one], self._row[other]
        this, that = factors
        gap = this * self._loads[first] - that * self._loads[second]
        return sqrt(float(this**2 * self._own[first] + that**2 * self._own[second] + gap @ self._shared @ gap))


def precision(
    observations: Sequence[Observation], fitted: Fit, weights: Mapping[int, Fraction] | None = None
) -> Precision | None:
    """Standard errors, in sheet points, of a fit of these observations with these judge weights (1 where absent).

    None when no degree of freedom is left to estimate chance by. Costs the cube of the number of judges.
    """
    import numpy as np

    if not fitted.freedom:
        return None
    chance = float(fitted.residual / fitted.freedom)
    row = {squad: index for index, squad in enumerate(fitted.adjusted)}
    column = {judge: index for index, judge in enumerate(fitted.effects)}
    weight = np.array([float((weights or {}).get(judge, ONE)) for judge in fitted.effects])
    seen = np.zeros((len(row), len(column)))
    for squad, judge, _ in observations:
        seen[row[squad], column[judge]] = weight[column[judge]]
    total = seen.sum(axis=1)
    loads = seen / total[:, None]
    matrix = np.diag(seen.sum(axis=0)) - seen.T @ loads
    shared = np.zeros_like(matrix)
    for part in fitted.parts:
        judges = [column[judge] for judge in part.judges]
        centre = np.eye(len(judges)) - weight[judges] / weight[judges].sum()
        shared[np.ix_(judges, judges)] = (
            centre @ np.linalg.pinv(matrix[np.ix_(judges, judges)], hermitian=True) @ centre.T
        )
    shared *= chance
    own = chance / total
    squads = np.sqrt(own + np.einsum("sj,jk,sk->s", loads, shared, loads, optimize=True))
    return Precision(
        squads=dict(zip(row, squads.tolist(), strict=True)),
        effects=dict(zip(column, np.sqrt(np.clip(shared.diagonal(), 0, None)).tolist(), strict=True)),
        _part_of={squad: index for index, part in enumerate(fitted.parts) for squad in part.squads},
        _row=row,
        _loads=loads,
        _own=own,
        _shared=shared,
    )

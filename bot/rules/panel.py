"""Harsh and lenient judges made fair: the additive model of squads and judges, fitted exactly.

A sheet's value = squad + judge effect + chance. The fit is by (weighted) least squares; the judge effects, each times
the judge's weight, sum to 0. The squad's estimate is its adjusted mean: what the average judge of this panel would
have given. On complete data it equals the plain (weighted) mean, exactly. Reference tables C1 to C5.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm, sqrt
from typing import NamedTuple

from bot.rules.connections import Part, parts
from bot.rules.refusal import Refusal

ONE = Fraction(1)


class Observation(NamedTuple):
    """One sheet's value."""

    squad: int
    judge: int
    value: Fraction


@dataclass(frozen=True, slots=True)
class Fit:
    """A fitted panel. Within each part adjusted means are comparable; between parts they are not."""

    adjusted: Mapping[int, Fraction]
    """By squad."""
    effects: Mapping[int, Fraction]
    """By judge: how much more (above 0, lenient) or less (harsh) than the average judge of the part."""
    parts: tuple[Part, ...]
    residual: Fraction
    """Weighted sum of squares that neither squads nor judges explain."""
    freedom: int
    """Degrees of freedom of the residual; 0 leaves nothing to judge the fit by."""

    @property
    def connected(self) -> bool:
        """Whether all squads can be compared."""
        return len(self.parts) <= 1

    @property
    def spread(self) -> float | None:
        """Residual standard deviation in sheet points: by how much judges differ on one squad after severity."""
        return sqrt(self.residual / self.freedom) if self.freedom else None


def fit(observations: Sequence[Observation], weights: Mapping[int, Fraction] | None = None) -> Fit:
    """The least-squares fit of a panel; `weights` by judge, all above 0 (1 where absent).

    Raises Refusal: `panel_empty`, `mark_twice` (squad, judge), `judge_weight` (weight).
    """
    panel = _Panel(observations, weights or {})
    found = parts((squad, judge) for squad, judge, _ in observations)
    effects: dict[int, Fraction] = {}
    for part in found:
        effects.update(panel.effects(part.judges))
    explained = sum((effect * panel.pull[judge] for judge, effect in effects.items()), Fraction(0))
    return Fit(
        adjusted=panel.adjusted(effects),
        effects={judge: effects[judge] for judge in sorted(effects)},
        parts=found,
        residual=panel.within - explained,
        freedom=len(observations) - len(panel.means) - len(effects) + len(found),
    )


class _Panel:
    """The normal equations of the judge effects, after the squads are eliminated."""

    def __init__(self, observations: Sequence[Observation], weights: Mapping[int, Fraction]) -> None:
        if not observations:
            raise Refusal("panel_empty")
        self.sheets: dict[int, dict[int, Fraction]] = defaultdict(dict)
        for squad, judge, value in observations:
            if judge in self.sheets[squad]:
                raise Refusal("mark_twice", squad=squad, judge=judge)
            self.sheets[squad][judge] = value
        self.weights = {judge: weights.get(judge, ONE) for _, judge, _ in observations}
        for weight in self.weights.values():
            if weight <= 0:
                raise Refusal("judge_weight", weight=weight)
        self.total: dict[int, Fraction] = {}
        """Sum of a squad's judge weights."""
        self.means: dict[int, Fraction] = {}
        self.pull: dict[int, Fraction] = dict.fromkeys(self.weights, Fraction(0))
        """By judge: weighted sum of differences from the squads' means, the right side of the equations."""
        self.within = Fraction(0)
        """Weighted sum of squares within squads."""
        for squad in sorted(self.sheets):
            self._add(squad, self.sheets[squad])
        self.bonds = self._bonds()
        """By pair of judges: the matrix of the equations."""

    def _add(self, squad: int, sheets: Mapping[int, Fraction]) -> None:
        total = sum((self.weights[judge] for judge in sheets), Fraction(0))
        mean = sum((value * self.weights[judge] for judge, value in sheets.items()), Fraction(0)) / total
        self.total[squad], self.means[squad] = total, mean
        for judge, value in sheets.items():
            pull = self.weights[judge] * (value - mean)
            self.pull[judge] += pull
            self.within += pull * (value - mean)

    def _bonds(self) -> dict[int, dict[int, Fraction]]:
        bonds: dict[int, dict[int, Fraction]] = {judge: defaultdict(Fraction) for judge in self.weights}
        panels = Counter(tuple(sorted(sheets)) for sheets in self.sheets.values())
        for judges, squads in panels.items():
            total = sum((self.weights[judge] for judge in judges), Fraction(0))
            for judge in judges:
                bonds[judge][judge] += squads * self.weights[judge]
                share = squads * self.weights[judge] / total
                for other in judges:
                    bonds[judge][other] -= share * self.weights[other]
        return bonds

    def effects(self, judges: Sequence[int]) -> dict[int, Fraction]:
        """The effects of the judges of one part: the first is held at 0, then all are moved to their zero sum."""
        free = judges[1:]
        matrix = [[self.bonds[judge][other] for other in free] for judge in free]
        solved = dict(zip(judges, [Fraction(0), *_solve(matrix, [self.pull[judge] for judge in free])], strict=True))
        weight = sum((self.weights[judge] for judge in judges), Fraction(0))
        centre = sum((self.weights[judge] * effect for judge, effect in solved.items()), Fraction(0)) / weight
        return {judge: effect - centre for judge, effect in solved.items()}

    def adjusted(self, effects: Mapping[int, Fraction]) -> dict[int, Fraction]:
        """Each squad's mean less the mean effect of its judges."""
        common = lcm(*(effect.denominator for effect in effects.values()))
        parts_of = {judge: effect.numerator * (common // effect.denominator) for judge, effect in effects.items()}
        adjusted = {}
        for squad, sheets in self.sheets.items():
            leniency = sum((self.weights[judge] * parts_of[judge] for judge in sheets), Fraction(0))
            adjusted[squad] = self.means[squad] - leniency / (self.total[squad] * common)
        return {squad: adjusted[squad] for squad in sorted(adjusted)}


def _solve(matrix: Sequence[Sequence[Fraction]], right: Sequence[Fraction]) -> list[Fraction]:
    """Solve a symmetric positive definite system exactly, in whole numbers (E. H. Bareiss 1968)."""
    size = len(matrix)
    if not size:
        return []
    scale = lcm(*(entry.denominator for row in matrix for entry in row))
    right_scale = lcm(*(entry.denominator for entry in right))
    upper = [[int(entry * scale) for entry in row] for row in matrix]
    side = [int(entry * right_scale) for entry in right]
    previous = 1
    for step in range(size - 1):
        pivot_row, pivot = upper[step], upper[step][step]
        for row in range(step + 1, size):
            factor = pivot_row[row]
            target = upper[row]
            for column in range(row, size):
                target[column] = (pivot * target[column] - factor * pivot_row[column]) // previous
            side[row] = (pivot * side[row] - factor * side[step]) // previous
        previous = pivot
    determinant = upper[-1][-1]
    solved = [0] * size
    for row in reversed(range(size)):
        rest = sum(upper[row][column] * solved[column] for column in range(row + 1, size))
        solved[row] = (determinant * side[row] - rest) // upper[row][row]
    return [Fraction(value * scale, determinant * right_scale) for value in solved]

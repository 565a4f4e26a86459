"""Harsh and lenient judges made fair: the additive model of squads and judges, fitted exactly.

A sheet's value = squad + judge effect + chance. The fit is by (weighted) least squares; the judge effects, each times
the judge's weight, sum to 0. The squad's estimate is its adjusted mean: what the average judge of this panel would
have given. On complete data it equals the plain (weighted) mean, exactly. Reference tables C1 to C5.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm, sqrt
from typing import NamedTuple

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.connectedness import Part, parts
from bot.rules.scoring.exact_solver import solve

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
    return Fit(
        adjusted=panel.adjusted(effects),
        effects={judge: effects[judge] / panel.unit for judge in sorted(effects)},
        parts=found,
        residual=panel.residual(effects),
        freedom=len(observations) - len(panel.sheets) - len(effects) + len(found),
    )


class _Panel:
    """The normal equations of the judge effects, after the squads are eliminated, in whole numbers.

    A squad's own estimate is its mean less the mean effect of its judges; what remains is one equation for each judge.
    """

    def __init__(self, observations: Sequence[Observation], weights: Mapping[int, Fraction]) -> None:
        if not observations:
            raise Refusal(Reason.PANEL_EMPTY)
        self.unit = lcm(*(value.denominator for *_, value in observations))
        """Values are counted in this part of a sheet point."""
        self.sheets: dict[int, dict[int, int]] = {squad: {} for squad in sorted({squad for squad, *_ in observations})}
        for squad, judge, value in observations:
            if judge in self.sheets[squad]:
                raise Refusal(Reason.MARK_TWICE, squad=squad, judge=judge)
            self.sheets[squad][judge] = value.numerator * (self.unit // value.denominator)
        given = {judge: weights.get(judge, ONE) for _, judge, _ in observations}
        for weight in given.values():
            if weight <= 0:
                raise Refusal(Reason.JUDGE_WEIGHT, weight=weight)
        self.heft = lcm(*(weight.denominator for weight in given.values()))
        """Weights are counted in this part of a judge."""
        self.weights = {judge: int(weight * self.heft) for judge, weight in given.items()}
        self.total = {squad: sum(self.weights[judge] for judge in each) for squad, each in self.sheets.items()}
        """By squad: sum of its judges' weights."""
        self.sum = {squad: self._weighted(each) for squad, each in self.sheets.items()}
        """By squad: weighted sum of its sheets."""
        self.factor = lcm(*self.total.values())
        """Every equation is multiplied by this, so that division by a squad's total leaves no remainder."""
        self.bonds = self._bonds()
        """By pair of judges: the matrix of the equations."""
        self.pull = self._pull()
        """By judge: the right side, weighted differences of the judge's sheets from the squads' means."""

    def _weighted(self, values: Mapping[int, int]) -> int:
        return sum(self.weights[judge] * value for judge, value in values.items())

    def _bonds(self) -> dict[int, Counter[int]]:
        """The matrix: factor x w_j for each squad of a judge, less factor w_j w_k / total for each of two judges."""
        bonds: dict[int, Counter[int]] = {judge: Counter() for judge in self.weights}
        panels = Counter(tuple(sorted(sheets)) for sheets in self.sheets.values())
        for judges, squads in panels.items():
            part = self.factor // sum(self.weights[judge] for judge in judges)
            for judge in judges:
                bonds[judge][judge] += squads * self.weights[judge] * self.factor
                share = squads * self.weights[judge] * part
                for other in judges:
                    bonds[judge][other] -= share * self.weights[other]
        return bonds

    def _pull(self) -> Counter[int]:
        """The right side: factor x sum over a judge's squads of w_j (value - the squad's mean), in units of a value."""
        pull: Counter[int] = Counter()
        for squad, sheets in self.sheets.items():
            part, total, whole = self.factor // self.total[squad], self.total[squad], self.sum[squad]
            for judge, value in sheets.items():
                pull[judge] += part * self.weights[judge] * (total * value - whole)
        return pull

    def effects(self, judges: Sequence[int]) -> dict[int, Fraction]:
        """The effects of the judges of one part: the first is held at 0, then all are moved to their zero sum."""
        if len({tuple(sorted(sheets)) for sheets in self.sheets.values()}) == 1:
            # Every judge saw every squad: the equations fall apart into one for each judge.
            scale = len(self.sheets) * self.factor
            return {judge: Fraction(self.pull[judge], scale * self.weights[judge]) for judge in judges}
        free = judges[1:]
        matrix = [[self.bonds[judge][other] for other in free] for judge in free]
        solved = dict(zip(judges, [Fraction(0), *solve(matrix, [self.pull[judge] for judge in free])], strict=True))
        weight = sum(self.weights[judge] for judge in judges)
        centre = sum((self.weights[judge] * effect for judge, effect in solved.items()), Fraction(0)) / weight
        return {judge: effect - centre for judge, effect in solved.items()}

    def adjusted(self, effects: Mapping[int, Fraction]) -> dict[int, Fraction]:
        """Each squad's mean less the mean effect of its judges, in sheet points."""
        common = lcm(*(effect.denominator for effect in effects.values()))
        whole = {judge: effect.numerator * (common // effect.denominator) for judge, effect in effects.items()}
        return {
            squad: Fraction(
                self.sum[squad] * common - sum(self.weights[judge] * whole[judge] for judge in sheets),
                self.total[squad] * common * self.unit,
            )
            for squad, sheets in self.sheets.items()
        }

    def residual(self, effects: Mapping[int, Fraction]) -> Fraction:
        """The sum of squares within squads, less what the judge effects explain of it."""
        within = 0
        for squad, sheets in self.sheets.items():
            squares = sum(self.weights[judge] * value * value for judge, value in sheets.items())
            within += self.factor * squares - self.factor // self.total[squad] * self.sum[squad] ** 2
        explained = sum((effect * self.pull[judge] for judge, effect in effects.items()), Fraction(0))
        return (within - explained) / (self.factor * self.heft * self.unit * self.unit)

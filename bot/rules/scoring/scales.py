"""The five scales that turn a measure's values into 0 (nothing) to 1 (the best), exactly.

Each takes the values of the squads that have one and `lower`, which says that less is better (a time, say). A timed
squad that did not finish is no value here: the standings give it 0. Two formulas can leave 0 to 1: `maximum` above its
maximum (and an evened-out panel beyond its top, or below 0), `standard` either way; `scaled` cuts them off there, above
1 unless the plan says otherwise. Where nobody differs, or a squad is alone, a scale that only compares squads (`rank`,
`standard`, `between` without ends) says nothing about them, and gives everybody 1/2; on the others the formula holds as
ever, so that of the best everybody has 1. Reference tables B1, B5, B6 and B9.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import isqrt
from typing import Literal

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.scoring.measures import highest_sheet
from storage.records.plan_measures import Checklist, Measure, Number, Rubric, Share, Time

Scale = Literal["maximum", "best", "between", "rank", "standard"]
SCALES: tuple[Scale, ...] = ("maximum", "best", "between", "rank", "standard")
_DIGITS = 60
"""Decimal digits to which an irrational square root is taken."""
NOTHING, HALF, ALL = Fraction(0), Fraction(1, 2), Fraction(1)


def of_maximum(values: Sequence[Fraction], maximum: Fraction, lower: bool = False) -> list[Fraction]:
    """value / maximum; where lower is better (maximum - value) / maximum, at least 0.

    A value beyond the maximum scales beyond 1; `scaled` caps it unless the plan says otherwise.

    Raises Refusal: `scale_maximum` when the maximum is not above 0.
    """
    if maximum <= 0:
        raise Refusal(Reason.SCALE_MAXIMUM, maximum=maximum)
    if lower:
        return [max((maximum - value) / maximum, Fraction(0)) for value in values]
    return [value / maximum for value in values]


def of_best(values: Sequence[Fraction], lower: bool = False) -> list[Fraction]:
    """value / best; where lower is better best / value. Where the best has nothing, everybody has 0.

    Raises Refusal: `scale_time` when a value of which less is better is not above 0.
    """
    if not values:
        return []
    if lower:
        shortest = min(values)
        if shortest <= 0:
            raise Refusal(Reason.SCALE_TIME, seconds=shortest)
        return [shortest / value for value in values]
    best = max(values)
    return [value / best if best > 0 else Fraction(0) for value in values]


def between(values: Sequence[Fraction], floor: Fraction, full: Fraction) -> list[Fraction]:
    """Linear from `floor` (worth 0) to `full` (worth 1), clamped; `full` lies below `floor` where less is better.

    Raises Refusal: `scale_ends` when both are the same.
    """
    if floor == full:
        raise Refusal(Reason.SCALE_ENDS, floor=floor, full=full)
    return [min(max((value - floor) / (full - floor), Fraction(0)), Fraction(1)) for value in values]


def between_ends(values: Sequence[Fraction], lower: bool = False) -> list[Fraction]:
    """Between the worst and the best of the squads, for want of ends in a plan; equal squads all have 1/2."""
    if not values:
        return []
    worst, best = (max(values), min(values)) if lower else (min(values), max(values))
    return [HALF] * len(values) if worst == best else between(values, worst, best)


def by_rank(values: Sequence[Fraction], lower: bool = False, unfinished: int = 0) -> list[Fraction]:
    """(n - fractional rank) / (n - 1): first 1, last 0, equals share. A squad alone has 1/2.

    `unfinished` squads take part in n, behind all the others.
    """
    squads = len(values) + unfinished
    if squads == 1:
        return [HALF] * len(values)
    ranks = fractional_ranks(values, lower)
    return [(squads - rank) / (squads - 1) for rank in ranks]


def fractional_ranks(values: Sequence[Fraction], lower: bool = False) -> list[Fraction]:
    """Ranks from 1 for the best, in which equals share the mean of their ranks (1, 2.5, 2.5, 4)."""
    ordered = sorted(values, reverse=not lower)
    first: dict[Fraction, int] = {}
    count: dict[Fraction, int] = {}
    for position, value in enumerate(ordered, start=1):
        first.setdefault(value, position)
        count[value] = count.get(value, 0) + 1
    return [first[value] + Fraction(count[value] - 1, 2) for value in values]


class Roots:
    """Square roots that keep exact ties exact.

    A standard score divides by a square root, which is mostly irrational. Roots handed out by one `Roots` keep their
    exact ratio whenever it is rational (the root of 8 is twice the root of 2), and are otherwise correct to 60 digits.
    Square roots without rational ratios are linearly independent over the rationals, so that two totals are equal with
    these roots when, and but for a coincidence in the sixtieth digit only when, they are equal.
    """

    def __init__(self) -> None:
        self._bases: dict[int, Fraction] = {}

    def copy(self) -> "Roots":
        """Roots that start with all that these have handed out, so that ratios to them stay exact."""
        other = Roots()
        other._bases = dict(self._bases)
        return other

    def root(self, square: Fraction) -> Fraction:
        """The positive root of a positive square."""
        radicand = square.numerator * square.denominator
        for base, approximation in self._bases.items():
            product = radicand * base
            if isqrt(product) ** 2 == product:
                return approximation * Fraction(isqrt(product), base * square.denominator)
        if isqrt(radicand) ** 2 == radicand:
            return Fraction(isqrt(radicand), square.denominator)
        approximation = Fraction(isqrt(radicand * 10 ** (2 * _DIGITS)), 10**_DIGITS)
        self._bases[radicand] = approximation
        return approximation / square.denominator


def standard(values: Sequence[Fraction], lower: bool = False, roots: Roots | None = None) -> list[Fraction]:
    """T-scores (50 + 10 z, McCall 1922) over 100, with the standard deviation of the squads themselves (divisor n).

    Where nobody differs everybody has 1/2. `roots` is shared by all the measures of one total; a time scores at
    least 0, so that to finish is never worse than not to.
    """
    if not values:
        return []
    squads = len(values)
    mean = sum(values, Fraction(0)) / squads
    variance = sum(((value - mean) ** 2 for value in values), Fraction(0)) / squads
    if variance == 0:
        return [HALF] * squads
    tenth = 10 * (roots or Roots()).root(variance)
    if lower:
        return [max(HALF - (value - mean) / tenth, Fraction(0)) for value in values]
    return [HALF + (value - mean) / tenth for value in values]


def scaled(measure: Measure, values: Mapping[int, Fraction | None], roots: Roots) -> dict[int, Fraction]:
    """The values of the squads that have one, on the measure's own scale; None (did not finish) becomes 0.

    All are cut off at 0, and at 1 but for the scale of the maximum where the plan lets a value above it count.

    Raises Refusal: `scale_maximum`, `scale_ends` (each with measure) when the plan lacks what the scale needs. (A plan
    that is checked gives both ends of the scale `between`; without either, the worst and the best squad are the ends.)
    """
    finished = {squad: value for squad, value in values.items() if value is not None}
    results = _on_scale(measure, list(finished.values()), len(values) - len(finished), roots)
    # By their parts: comparing fractions takes several times as long, and this is done for every draw of judges.
    results = [one if one.numerator > 0 else NOTHING for one in results]
    if measure.scale != "maximum" or measure.over_maximum == "cap":
        results = [one if one.numerator < one.denominator else ALL for one in results]
    return dict.fromkeys(values, Fraction(0)) | dict(zip(finished, results, strict=True))


def _on_scale(measure: Measure, values: Sequence[Fraction], unfinished: int, roots: Roots) -> list[Fraction]:
    lower = lower_is_better(measure)
    match measure.scale:
        case "maximum":
            return of_maximum(values, highest_value(measure), lower)
        case "best":
            return of_best(values, lower)
        case "between":
            if measure.floor is None and measure.full is None:
                return between_ends(values, lower)
            if measure.floor is None or measure.full is None:
                raise Refusal(Reason.SCALE_ENDS, measure=measure.key, floor=measure.floor, full=measure.full)
            return between(values, Fraction(measure.floor), Fraction(measure.full))
        case "rank":
            return by_rank(values, lower, unfinished)
        case "standard":
            return standard(values, lower, roots)


def highest_value(measure: Measure) -> Fraction:
    """What is worth 1 on the scale of the maximum; where lower is better, what is worth 0.

    A rubric's is the top level everywhere, a share's is 1. Unless the plan gives a maximum, a time's is its limit, a
    number's the end of its range, a checklist's all points above 0 (each once for each attempt that is added).

    Raises Refusal: `scale_maximum` (measure) for a count without a maximum in the plan.
    """
    if isinstance(measure, Rubric):
        return highest_sheet(measure)
    if isinstance(measure, Share):
        return Fraction(1)
    if measure.maximum is not None:
        return Fraction(measure.maximum)
    added = measure.attempts if measure.keep == "sum" else 1
    match measure:
        case Time():
            return Fraction(measure.limit) * added
        case Number():
            return Fraction(measure.highest) * added
        case Checklist():
            return sum((Fraction(line.points) for line in measure.lines if line.points > 0), Fraction(0)) * added
    raise Refusal(Reason.SCALE_MAXIMUM, measure=measure.key, maximum=None)

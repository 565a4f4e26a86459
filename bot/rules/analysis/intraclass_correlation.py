"""Intraclass correlation: which share of the differences between sheets is due to the squads.

The six forms of P. E. Shrout and J. L. Fleiss (1979, Psychological Bulletin 86:420-428) with their intervals, for
complete data: every judge saw every squad. Two of them fit a try-out, whose judges are a few of many and whose points
count as they stand: ICC(2,1) for one judge and ICC(2,k) for the mean of the panel. Negative values are legal.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, isnan, lcm

from bot.rules.analysis.confidence_intervals import TAIL, UNDEFINED, Coefficient, Interval


@dataclass(frozen=True, slots=True)
class MeanSquares:
    """The two-way analysis of variance of a table of n squads and k judges."""

    squads: float
    judges: float
    error: float
    within: float
    """Within squads: judges and error together."""
    n: int
    k: int


@dataclass(frozen=True, slots=True)
class Icc:
    """All six forms: `icc1` one-way, `icc2` judges as a sample, `icc3` these judges only; `k` for the panel's mean."""

    mean_squares: MeanSquares
    icc1: Coefficient
    icc2: Coefficient
    icc3: Coefficient
    icc1k: Coefficient
    icc2k: Coefficient
    icc3k: Coefficient


def mean_squares(table: Sequence[Sequence[Fraction | float]]) -> MeanSquares | None:
    """The mean squares of a table with a row for each squad and a column for each judge.

    They are summed in whole numbers, so that what is exactly nothing comes out as nothing. None below two squads or two
    judges, or when every value is the same.
    """
    n, k = len(table), len(table[0]) if table else 0
    if n < 2 or k < 2:
        return None
    ratios = [[value.as_integer_ratio() for value in row] for row in table]
    scale = lcm(*(below for row in ratios for _, below in row))
    whole = [[above * (scale // below) for above, below in row] for row in ratios]
    total = sum(map(sum, whole))
    # Each sum of squares times n k scale^2.
    every = n * k * sum(value * value for row in whole for value in row) - total * total
    squads = n * sum(sum(row) ** 2 for row in whole) - total * total
    judges = k * sum(sum(column) ** 2 for column in zip(*whole, strict=True)) - total * total
    if every == 0:
        return None
    unit = n * k * scale * scale
    return MeanSquares(
        squads=squads / (unit * (n - 1)),
        judges=judges / (unit * (k - 1)),
        error=(every - squads - judges) / (unit * (n - 1) * (k - 1)),
        within=(every - squads) / (unit * n * (k - 1)),
        n=n,
        k=k,
    )


def icc(table: Sequence[Sequence[Fraction | float]]) -> Icc | None:
    """All six coefficients of a complete table, a row for each squad; None when none of them can be computed."""
    squares = mean_squares(table)
    if squares is None:
        return None
    one, two, three = _one_way(squares), _sample(squares), _fixed(squares)
    k = squares.k
    return Icc(squares, one, two, three, _panel(one, k), _panel(two, k), _panel(three, k))


def spearman_brown(single: float, judges: float) -> float:
    """The reliability of the mean of so many judges, from that of one (Spearman 1910, Brown 1910)."""
    return judges * single / (1 + (judges - 1) * single)


def judges_needed(single: float, goal: float) -> int | None:
    """How many judges' mean would have the reliability `goal`, from that of one judge (Spearman-Brown turned round).

    k = goal (1 - single) / (single (1 - goal)), rounded up; None where one judge's reliability is not between 0 and 1.
    """
    if not 0 < single < 1:
        return None
    return max(1, ceil(goal * (1 - single) / (single * (1 - goal)) - 1e-9))


def _one_way(squares: MeanSquares) -> Coefficient:
    n, k = squares.n, squares.k
    return _by_ratio(squares.squads, squares.within, k, n - 1, n * (k - 1))


def _fixed(squares: MeanSquares) -> Coefficient:
    n, k = squares.n, squares.k
    return _by_ratio(squares.squads, squares.error, k, n - 1, (n - 1) * (k - 1))


def _by_ratio(squads: float, chance: float, k: int, above: int, below: int) -> Coefficient:
    """(F - 1) / (F + k - 1), and the same of both ends of the interval of F."""
    from scipy.special import fdtri

    if squads == chance == 0:
        return UNDEFINED
    value = (squads - chance) / (squads + (k - 1) * chance)
    if chance == 0:
        return Coefficient(value, None)
    ratio = squads / chance
    low = ratio / fdtri(above, below, 1 - TAIL)
    high = ratio * fdtri(below, above, 1 - TAIL)
    return Coefficient(value, _interval((low - 1) / (low + k - 1), (high - 1) / (high + k - 1)))


def _sample(squares: MeanSquares) -> Coefficient:
    """ICC(2,1), with Satterthwaite's degrees of freedom for its interval (Shrout and Fleiss 1979, p. 424)."""
    from scipy.special import fdtri

    n, k, squads, judges, error = squares.n, squares.k, squares.squads, squares.judges, squares.error
    whole = squads + (k - 1) * error + k * (judges - error) / n
    if whole <= 0:
        return UNDEFINED
    value = (squads - error) / whole
    if error == 0:
        return Coefficient(value, None)
    ratio = judges / error
    rest = n * (1 + (k - 1) * value) - k * value
    below = (n - 1) * (k * value * ratio) ** 2 + rest**2
    if below == 0:
        return Coefficient(value, None)
    freedom = (k - 1) * (n - 1) * (k * value * ratio + rest) ** 2 / below
    # An F quantile at hardly any degrees of freedom is infinite, and then these still have their limits.
    upper = squads / float(fdtri(n - 1, freedom, 1 - TAIL))
    lower = squads * float(fdtri(freedom, n - 1, 1 - TAIL))
    both = k * judges + (k * n - k - n) * error
    if both + n * upper <= 0 or both + n * lower <= 0:
        return Coefficient(value, None)
    return Coefficient(
        value, _interval(n * (upper - error) / (both + n * upper), n * (lower - error) / (both + n * lower))
    )


def _interval(low: float, high: float) -> Interval | None:
    return None if isnan(low) or isnan(high) else (float(low), float(high))


def _panel(single: Coefficient, k: int) -> Coefficient:
    """The coefficient of the mean of k judges; None where that of one is so low that it has none."""
    if single.value is None or 1 + (k - 1) * single.value <= 0:
        return UNDEFINED
    ends = single.interval
    if ends is None or 1 + (k - 1) * ends[0] <= 0:
        return Coefficient(spearman_brown(single.value, k), None)
    return Coefficient(spearman_brown(single.value, k), (spearman_brown(ends[0], k), spearman_brown(ends[1], k)))

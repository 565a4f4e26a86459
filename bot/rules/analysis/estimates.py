"""A number that describes data, with its interval; and correlation, which several descriptions use."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import NormalDist

Interval = tuple[float, float]
LEVEL = 95
"""The level of confidence, in percent, of every interval that is computed here."""
TAIL = (1 - LEVEL / 100) / 2
"""What lies beyond either end of an interval."""
Z = NormalDist().inv_cdf(1 - TAIL)
"""How many standard errors an interval reaches to either side of a share or mean of many draws."""


def reach(error: float, freedom: float) -> float:
    """How far the interval of an estimate goes to either side, from its standard error.

    By Student's t (1908) with the degrees of freedom that the error was estimated from: with few of them a normal
    interval would be too narrow (at 2 it would hold 81 in 100 times, not 95).
    """
    from scipy.special import stdtrit

    return error * float(stdtrit(freedom, 1 - TAIL))


@dataclass(frozen=True, slots=True)
class Coefficient:
    """A coefficient and its interval at `LEVEL`; None where it cannot be computed (yet)."""

    value: float | None
    interval: Interval | None


UNDEFINED = Coefficient(None, None)
FEWEST_PAIRS = 3
"""Two points always lie on a line."""


def correlation(xs: Sequence[float], ys: Sequence[float]) -> float | None:
    """Pearson's correlation; None below three pairs or where one side does not vary."""
    if len(xs) < FEWEST_PAIRS or len(set(xs)) == 1 or len(set(ys)) == 1:
        return None
    mean_x, mean_y = sum(xs) / len(xs), sum(ys) / len(ys)
    off_x, off_y = [x - mean_x for x in xs], [y - mean_y for y in ys]
    spread = sum(x * x for x in off_x) * sum(y * y for y in off_y)
    if spread == 0:
        return None
    together = sum(x * y for x, y in zip(off_x, off_y, strict=True))
    return max(-1.0, min(1.0, together / sqrt(spread)))


def standard_deviation(values: Sequence[float]) -> float | None:
    """The sample standard deviation (divisor n - 1); None below two values."""
    if len(values) < 2:
        return None
    mean = sum(values) / len(values)
    return sqrt(sum((value - mean) ** 2 for value in values) / (len(values) - 1))

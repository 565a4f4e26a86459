"""Confidence intervals: their level, how far they reach, and a number that describes data with its interval."""

from dataclasses import dataclass
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

"""Kendall's W: how far the judges put the squads into the same order, with ties, and whether chance would do the same.

0 is no common order, 1 is one and the same. W = 12 S / (m^2 (n^3 - n) - m T) for m judges and n squads, S being the sum
of squared differences of the rank sums from their mean, T the sum of t^3 - t over every judge's ties. (M. G. Kendall
1948, Rank Correlation Methods, ch. 6.) Data must be complete: every judge saw every squad.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import permutations
from math import factorial, sqrt
from operator import add

from bot.rules.analysis.confidence_intervals import Z

EXACT_UP_TO = 20_000
"""Steps for which the null distribution is enumerated; beyond, orders are drawn."""
DRAWS = 1_999
LEAST_CHANCE = 0.01
"""Below this a probability is not told as a number."""
Ratings = Sequence[Sequence[Fraction | float]]


@dataclass(frozen=True, slots=True)
class Concordance:
    """W of one panel."""

    w: Fraction
    rank_sums: tuple[Fraction, ...]
    """By squad, in the order given; the best squad has the highest."""
    s: Fraction
    ties: int
    """T: the sum of t^3 - t."""


@dataclass(frozen=True, slots=True)
class Chance:
    """The probability of at least as much concordance if every judge had ordered the squads by lot."""

    p: float
    exact: bool
    """Whether it comes from all possible orders; otherwise from seeded random ones."""
    error: float
    """Standard error of `p` from the number of draws, sqrt(p (1 - p) / draws); 0 when exact."""

    @property
    def is_tiny(self) -> bool:
        """Whether it is surely below `LEAST_CHANCE`."""
        return self.p + Z * self.error < LEAST_CHANCE


def kendall_w(ratings: Ratings) -> Concordance | None:
    """W of a complete table with a row for each judge and a column for each squad.

    None (cannot be computed yet) below two judges or two squads, or when every judge gave all squads the same.
    """
    m, n = len(ratings), len(ratings[0]) if ratings else 0
    if m < 2 or n < 2:
        return None
    ranked = [_doubled_ranks(row) for row in ratings]
    ties = sum(tied for _, tied in ranked)
    most = m * m * (n**3 - n) - m * ties
    if most == 0:
        return None
    sums = [sum(column) for column in zip(*(row for row, _ in ranked), strict=True)]
    spread = _spread(sums)
    return Concordance(
        w=Fraction(12 * spread, 4 * n * most),
        rank_sums=tuple(Fraction(value, 2) for value in sums),
        s=Fraction(spread, 4 * n),
        ties=ties,
    )


def chance(ratings: Ratings, seed: int = 1) -> Chance | None:
    """How likely as much concordance is by lot, each judge's ties kept; None where W cannot be computed.

    A p-value: exact where all orders can be gone through, otherwise (1 + hits) / (1 + draws) over `DRAWS` permutations
    (A. C. Davison and D. V. Hinkley 1997, 4.2), which is never 0. `ratings` has a row for each judge.
    """
    found = kendall_w(ratings)
    if found is None:
        return None
    ranks = [_doubled_ranks(row)[0] for row in ratings]
    reached = int(found.s * 4 * len(ranks[0]))
    distribution = null_distribution(ranks, EXACT_UP_TO)
    if distribution is None:
        p = _drawn(ranks, reached, seed)
        return Chance(p, exact=False, error=sqrt(p * (1 - p) / DRAWS))
    return Chance(float(sum(p for value, p in distribution.items() if value >= reached)), exact=True, error=0.0)


def null_distribution(ranks: Sequence[Sequence[int]], budget: int | None = None) -> dict[int, Fraction] | None:
    """All values of the statistic with their probabilities, if every judge had dealt out these ranks by lot.

    `ranks` has a row for each judge: the ranks this judge gave, doubled so that shared ones are whole (1, 2.5, 2.5 is
    2, 5, 5). The statistic is n times the sum of squares of the rank sums minus their squared sum. Only the multiset of
    the sums matters, because the next judge deals out the ranks in every order alike. None when it would take more
    steps than the budget.
    """
    first, *others = ranks
    states = {tuple(sorted(first)): 1}
    steps = 0
    for row in others:
        steps += len(states) * factorial(len(row))
        if budget is not None and steps > budget:
            return None
        following: Counter[tuple[int, ...]] = Counter()
        orders = Counter(permutations(row))
        for sums, ways in states.items():
            for dealt, times in orders.items():
                following[tuple(sorted(map(add, sums, dealt)))] += ways * times
        states = following
    found: Counter[int] = Counter()
    for sums, ways in states.items():
        found[_spread(sums)] += ways
    whole = sum(found.values())
    return {value: Fraction(ways, whole) for value, ways in sorted(found.items())}


def _drawn(ranks: Sequence[Sequence[int]], reached: int, seed: int) -> float:
    """(1 + drawn orders with at least as much) / (1 + draws)."""
    import numpy as np

    rows = np.broadcast_to(np.array(ranks, dtype=np.int64), (DRAWS, len(ranks), len(ranks[0])))
    sums = np.random.default_rng(seed).permuted(rows, axis=2).sum(axis=1)
    spreads = len(ranks[0]) * (sums * sums).sum(axis=1) - sums.sum(axis=1) ** 2
    return float((1 + np.count_nonzero(spreads >= reached)) / (1 + DRAWS))


def _doubled_ranks(values: Sequence[Fraction | float]) -> tuple[list[int], int]:
    """Twice the fractional ranks, lowest value first, so that they are whole; and the sum of t^3 - t of the ties."""
    count = Counter(values)
    rank, below, ties = {}, 0, 0
    for value in sorted(count):
        times = count[value]
        rank[value] = 2 * below + times + 1
        below += times
        ties += times**3 - times
    return [rank[value] for value in values], ties


def _spread(sums: Sequence[int]) -> int:
    return len(sums) * sum(value * value for value in sums) - sum(sums) ** 2

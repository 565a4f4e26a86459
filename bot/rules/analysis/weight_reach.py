"""How far the weights must move before one squad reaches another that was excused from other events.

A squad's total is the weighted mean of the events that count for it. Of two squads that were excused alike both means
divide by the same weight, and the question is linear; otherwise it is not, and has no closed form. With a common total
t in mind it is linear again ("one has at most t, the other at least t"), so the range of t is halved again and again,
each half with a lower bound from linear programming (branch and bound; A. H. Land and A. G. Doig 1960).

`ahead` and `behind` are the points of a pair of squads by event, without the events they were excused from; weights are
shares of all events that add up to 1.
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from heapq import heappop, heappush
from itertools import count
from math import isqrt

Points = Mapping[str, Fraction]
Weights = dict[str, Fraction]
ZERO = Fraction(0)
TOLERANCE = 1e-6
"""Share of the whole weight to which the least shift is found where it has no closed form."""
_NODES = 400
_GRID = 2**40
_SIMPLE = 10**6
_STEPS = 20
_NARROW = 1e-12
_POSITIVE = 1e-9


def can_pass(ahead: Points, behind: Points) -> bool:
    """Whether under some weights `behind` would have more than `ahead`.

    So it is when some event makes it so that counts for both; or the points of one event, that counts for one of them
    only, against those of any event of the other.
    """
    return next(_strict_pairs(ahead, behind), None) is not None


def tied_only(ahead: Points, behind: Points, weights: Points) -> Weights | None:
    """The nearest weights at which the two tie, where `behind` can never pass; None where they never tie either.

    They tie where only events count in which both have the same points, or where all points that count are equal.
    """
    neutral = {key for key in weights if key not in ahead and key not in behind}
    sets = [{key for key in ahead.keys() & behind.keys() if ahead[key] == behind[key]}]
    sets += [
        {key for key in weights if all(one[key] == value for one in (ahead, behind) if key in one)}
        for value in set(ahead.values()) & set(behind.values())
    ]
    usable = [one - neutral for one in sets if one & ahead.keys() and one & behind.keys()]
    if not usable:
        return None
    kept = max(usable, key=lambda one: sum(weights[key] for key in one))
    heaviest = max(kept, key=lambda key: (weights[key], key))
    changed = {key: weight if key in kept or key in neutral else Fraction(0) for key, weight in weights.items()}
    changed[heaviest] += 1 - sum(changed.values())
    return changed


def nearest_passing(ahead: Points, behind: Points, weights: Points, cutoff: Fraction | None) -> Weights | None:
    """The nearest weights at which `behind` is no longer behind, within `TOLERANCE` of the least shift.

    At them it is level or ahead by next to nothing, exactly computed. None where it cannot pass, or not within a shift
    of `cutoff`.
    """
    beyond = [_beyond(ahead, behind, weights, *pair) for pair in _strict_pairs(ahead, behind)]
    if not beyond:
        return None
    program, most = _Program(ahead, behind, weights), 1.0 if cutoff is None else float(cutoff)
    if program.least > most - TOLERANCE:
        return None
    found = [_crossing(ahead, behind, weights, each) or each for each in beyond]
    nearest = min(found, key=lambda each: shift_of(weights, each))
    best = _improved(program, ahead, behind, weights, nearest, most)
    return None if cutoff is not None and shift_of(weights, best) >= cutoff else best


def shift_of(weights: Points, changed: Points) -> Fraction:
    """The share of the weight that moves: half the sum of the absolute differences."""
    return sum((abs(changed[key] - weight) for key, weight in weights.items()), ZERO) / 2


def lead(ahead: Points, behind: Points, weights: Points) -> Fraction | None:
    """By how much the total of `ahead` is above that of `behind`; None where one of them has no weight left."""
    return None if (one := _mean(ahead, weights)) is None or (other := _mean(behind, weights)) is None else one - other


def _mean(points: Points, weights: Points) -> Fraction | None:
    whole = sum((weights[key] for key in points), ZERO)
    return sum((weights[key] * value for key, value in points.items()), ZERO) / whole if whole else None


def _strict_pairs(ahead: Points, behind: Points) -> Iterator[tuple[str, str]]:
    """Events such that weight on the first for `ahead` and on the second for `behind` puts `behind` before."""
    for one, worse in ahead.items():
        for other, better in behind.items():
            if better > worse and (one == other or other not in ahead or one not in behind):
                yield one, other


def _beyond(ahead: Points, behind: Points, weights: Points, one: str, other: str) -> Weights:
    """Weights on these two events alone at which `behind` is before `ahead`."""
    heavy, light = (other, one) if other not in ahead else (one, other)
    small = Fraction(1, 2)
    while True:
        changed = dict.fromkeys(weights, ZERO)
        changed[light] += small
        changed[heavy] += 1 - small
        gap = lead(ahead, behind, changed)
        if gap is not None and gap < 0:
            return changed
        small /= 2


def _crossing(ahead: Points, behind: Points, weights: Points, toward: Points) -> Weights | None:
    """The first weights on the way there, and on in a straight line, at which `behind` is level or ahead by next to
    nothing; None where it is behind all the way.

    On the way every sum runs along a line, so the lead, cleared of its two divisors, is a parabola.
    """
    falling = [weights[key] / (weights[key] - toward[key]) for key in weights if toward[key] < weights[key]]
    if not falling:
        return None
    sums = [
        (sum((at[key] * value for key, value in points.items()), ZERO), sum((at[key] for key in points), ZERO))
        for at in (weights, toward)
        for points in (ahead, behind)
    ]
    (one, whole), (other, all_other), (end, whole_end), (other_end, all_other_end) = sums
    start = one * all_other - other * whole
    bend = (end - one) * (all_other_end - all_other) - (other_end - other) * (whole_end - whole)
    slope = end * all_other_end - other_end * whole_end - start - bend
    share = _first_root(start, slope, bend, min(falling))
    if share is None:
        return None
    changed = {key: weight + share * (toward[key] - weight) for key, weight in weights.items()}
    return None if lead(ahead, behind, changed) is None else changed


def _first_root(start: Fraction, slope: Fraction, bend: Fraction, limit: Fraction) -> Fraction | None:
    """Where start + slope s + bend s^2, above 0 at 0, is first not above 0, up to a limit: exact, or just beyond."""

    def value(share: Fraction) -> Fraction:
        return start + share * (slope + share * bend)

    under = slope * slope - 4 * start * bend
    if under < 0 or (bend >= 0 and slope >= 0):
        return None
    # The smaller positive root, in the form that does not cancel.
    root = 2 * start / (Fraction(isqrt(int(under * _GRID**4)), _GRID**2) - slope)
    simple = root.limit_denominator(_SIMPLE)
    if value(simple) == 0:
        return simple if simple <= limit else None
    for step in range(_STEPS):
        near = min(root + Fraction(2**step, _GRID), limit)
        if value(near) <= 0:
            return near
    return None


def _improved(
    program: "_Program", ahead: Points, behind: Points, weights: Points, best: Weights, most: float
) -> Weights:
    least = float(shift_of(weights, best))
    waiting = [(program.least, 0, program.start, program.end)]
    for number in count(1):
        if not waiting or number > _NODES:
            break
        bound, _, low, high = heappop(waiting)
        if bound > min(least, most) - TOLERANCE:
            break
        middle = (low + high) / 2
        for part in ((low, middle), (middle, high)):
            half = program.solved(*part)
            if half is None:
                continue
            there = _crossing(ahead, behind, weights, _fractions(half[1], weights))
            if there is not None and float(shift_of(weights, there)) < least:
                best, least = there, float(shift_of(weights, there))
            if half[0] < min(least, most) - TOLERANCE and middle - low > _NARROW:
                heappush(waiting, (half[0], 2 * number + (part[0] == low), *part))
    return best


def _fractions(shares: Mapping[str, float], weights: Points) -> Weights:
    changed = {key: Fraction(max(shares[key], 0.0)).limit_denominator(_SIMPLE) for key in weights}
    heaviest = max(changed, key=lambda key: (changed[key], key))
    changed[heaviest] += 1 - sum(changed.values())
    return changed


class _Program:
    """The least shift at which `ahead` has at most `high` and `behind` at least `low`, as a linear program."""

    def __init__(self, ahead: Points, behind: Points, weights: Points) -> None:
        self.keys = list(weights)
        self.weights = [float(weight) for weight in weights.values()]
        self.ahead = {key: float(value) / 100 for key, value in ahead.items()}
        self.behind = {key: float(value) / 100 for key, value in behind.items()}
        self.start, self.end = min(self.ahead.values()), max(self.behind.values())
        """The range of a common total."""
        whole = self.solved(self.start, self.end)
        self.least = 0.0 if whole is None else whole[0]
        """No shift is less."""

    def solved(self, low: float, high: float) -> tuple[float, dict[str, float]] | None:
        """The shift and the weights; None where there are none. Variables: the weights, then what each event loses."""
        import numpy as np
        from scipy.optimize import linprog

        events = len(self.keys)
        counts = [[float(key in points) for key in self.keys] for points in (self.ahead, self.behind)]
        above = np.zeros((4 + events, 2 * events))
        above[:4, :events] = [
            [self.ahead[key] - high if key in self.ahead else 0.0 for key in self.keys],
            [low - self.behind[key] if key in self.behind else 0.0 for key in self.keys],
            *np.negative(counts),
        ]
        above[4:, :events] = above[4:, events:] = -np.eye(events)
        solved = linprog(
            np.concatenate([np.zeros(events), np.ones(events)]),
            A_ub=above,
            b_ub=[0.0, 0.0, -_POSITIVE, -_POSITIVE, *np.negative(self.weights)],
            A_eq=[[1.0] * events + [0.0] * events],
            b_eq=[1.0],
            method="highs",
            options={"primal_feasibility_tolerance": 1e-10},
        )
        if solved.status != 0:
            return None
        return float(solved.fun), dict(zip(self.keys, solved.x[:events].tolist(), strict=True))

"""What the weights of the events do: their real share in the order, and how far they could move before it changed.

Weights are taken as shares that add up to 1. Squads that were excused from an event have a total that is no weighted
sum of the same events as the others'; each question says what becomes of them. Reference tables B7 and D3.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from bot.rules.scoring.results import Row, Standings

ZERO = Fraction(0)
Line = tuple[Fraction, Fraction]
"""A squad's total where the first of two events counts nothing, and what it gains when that counts everything."""


@dataclass(frozen=True, slots=True)
class WeightChange:
    """The smallest change of weights at which the places change hands."""

    shift: Fraction
    """Share of the whole weight that moves from some events to another: 0.05 is 5 of 100 points. 0 means a tie now."""
    weights: Mapping[str, Fraction]
    """By event: the changed shares, at which the two squads tie exactly; a step further, they change places."""
    loses: int
    """The squad that holds a place now."""
    gains: int


@dataclass(frozen=True, slots=True)
class Segment:
    """A range of the first event's share in which the same squads hold the places."""

    start: Fraction
    end: Fraction
    squads: tuple[int, ...]
    """In the order of their numbers; more than the places where totals are equal throughout."""


def effective_weights(result: Standings) -> dict[str, Fraction] | None:
    """Each event's share in the variance of the totals: w cov(event, total) / var(total).

    Beside the nominal weights it shows which event really decides; below 0, an event works against the final order.
    (M. W. Richardson 1941; F. M. Lord and M. R. Novick 1968.) Excused squads are left out. None (cannot be computed)
    when fewer than two squads are left, or all their totals are equal.
    """
    rows = [row for row in result.rows if not _excused(row)]
    if len(rows) < 2:
        return None
    totals = _deviations([row.total or ZERO for row in rows])
    variance = sum((total * total for total in totals), ZERO)
    if variance == 0:
        return None
    effective = {}
    for key in result.weights:
        contributions = [_contribution(row, key) for row in rows]
        together = zip(_deviations(contributions), totals, strict=True)
        effective[key] = sum((one * total for one, total in together), ZERO) / variance
    return effective


def smallest_change(result: Standings) -> WeightChange | None:
    """The smallest shift of weight with which a squad without a place reaches one that holds one; exact.

    For a pair of squads the lead is a weighted sum of their differences in the events. A unit of weight moved from
    event e to event f lowers it by the difference in e less the difference in f. So weight goes to the event with the
    lowest difference, taken first from the events with the highest, until the lead is gone. Pairs of squads that were
    excused from different events are not compared. None when no change of weights moves a place.
    """
    if result.straddle is not None:
        loses, gains, *_ = result.straddle.squads
        return WeightChange(ZERO, dict(result.weights), loses, gains)
    holders = set(result.placed)
    inside = [row for row in result.rows if row.squad_id in holders]
    outside = [row for row in result.rows if row.squad_id not in holders]
    best: WeightChange | None = None
    for holder in inside:
        for other in outside:
            if _excused(holder) != _excused(other):
                continue
            moved = _overtaking(_differences(holder, other), result.weights)
            if moved is not None and (best is None or moved[0] < best.shift):
                best = WeightChange(*moved, loses=holder.squad_id, gains=other.squad_id)
    return best


def not_compared(result: Standings) -> tuple[int, ...]:
    """Squads without a place that `smallest_change` cannot compare with some squad that holds one."""
    excused = {row.squad_id: _excused(row) for row in result.rows}
    held = {excused[squad] for squad in result.placed}
    return tuple(squad for squad, events in excused.items() if squad not in result.placed and held - {events})


def change_points(result: Standings) -> tuple[Segment, ...] | None:
    """With two events: who holds the places as the first event's share runs from 0 to 1, exactly.

    None for another number of events, when a ranked squad was excused, or when no squad is ranked.
    """
    keys = list(result.weights)
    if len(keys) != 2 or not result.rows or any(_excused(row) for row in result.rows):
        return None
    lines = {
        row.squad_id: (_points(row, keys[1]), _points(row, keys[0]) - _points(row, keys[1])) for row in result.rows
    }
    numbers = {row.squad_id: row.number for row in result.rows}
    segments: list[Segment] = []
    at = ZERO
    while at < 1:
        holders = _holders(lines, at, result.places)
        end = min((_meeting(lines, holders, line, at) for line in lines.values()), default=Fraction(1))
        squads = tuple(sorted(holders, key=numbers.__getitem__))
        if segments and segments[-1].squads == squads:
            segments[-1] = replace(segments[-1], end=end)
        else:
            segments.append(Segment(at, end, squads))
        at = end
    return tuple(segments)


def _overtaking(
    differences: Mapping[str, Fraction], weights: Mapping[str, Fraction]
) -> tuple[Fraction, dict[str, Fraction]] | None:
    """The least shift at which the weighted sum of the differences is gone, and the weights there."""
    lead = sum((weights[key] * difference for key, difference in differences.items()), ZERO)
    to = min(differences, key=differences.__getitem__)
    if differences[to] >= 0:
        return None
    changed, shift = dict(weights), ZERO
    for key in sorted(differences, key=differences.__getitem__, reverse=True):
        if lead <= 0 or key == to:
            break
        per_unit = differences[key] - differences[to]
        if per_unit == 0:
            break
        amount = min(weights[key], lead / per_unit)
        changed[key] -= amount
        changed[to] += amount
        shift += amount
        lead -= amount * per_unit
    return shift, changed


def _differences(one: Row, other: Row) -> dict[str, Fraction]:
    """By event: by how many points one is ahead; 0 where both were excused."""
    return {event.key: _points(one, event.key) - _points(other, event.key) for event in one.events}


def _holders(lines: Mapping[int, Line], at: Fraction, places: int) -> set[int]:
    """Who holds the places just beyond a share of the first event, all equals included."""
    order = {squad: (base + at * slope, slope) for squad, (base, slope) in lines.items()}
    last = sorted(order.values(), reverse=True)[:places][-1]
    return {squad for squad, value in order.items() if value >= last}


def _meeting(lines: Mapping[int, Line], holders: set[int], line: Line, at: Fraction) -> Fraction:
    """The first share beyond `at` at which a rising line reaches that of a holder; 1 when it never does."""
    base, slope = line
    met = [(lines[holder][0] - base) / (slope - lines[holder][1]) for holder in holders if slope > lines[holder][1]]
    return min((share for share in met if at < share < 1), default=Fraction(1))


def _excused(row: Row) -> frozenset[str]:
    return frozenset(event.key for event in row.events if event.state == "excused")


def _points(row: Row, key: str) -> Fraction:
    return next(event.points or ZERO for event in row.events if event.key == key)


def _contribution(row: Row, key: str) -> Fraction:
    return next(event.contribution or ZERO for event in row.events if event.key == key)


def _deviations(values: Sequence[Fraction]) -> list[Fraction]:
    mean = sum(values, ZERO) / len(values)
    return [value - mean for value in values]

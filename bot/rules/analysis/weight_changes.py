"""What the weights of the events do: their real share in the order, and how far they could move before it changed.

Weights are taken as shares that add up to 1. Squads that were excused from an event have a total that is no weighted
sum of the same events as the others'; each question says what becomes of them. Reference tables B7 and D3.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from bot.rules.analysis.weight_reach import can_pass, nearest_passing, shift_of, tied_only
from bot.rules.scoring.standings_records import Row, Standings

ZERO = Fraction(0)
LEAST_MOVED = Fraction(1, 10)
"""Of 100 points of weight: below it no number is given."""
Line = tuple[Fraction, Fraction]
"""A squad's total where the first of two events counts nothing, and what it gains when that counts everything."""


FEWEST_SQUADS = 3
"""Of two squads there is one difference only: what really decides is told from three on."""


def tells_what_decides(shares: Mapping[str, Fraction] | None, result: Standings) -> bool:
    """Whether the events' real shares are told: from two events and `FEWEST_SQUADS` squads without an excuse on."""
    counted = [row for row in result.rows if not _excused(row)]
    return shares is not None and len(shares) >= 2 and len(counted) >= FEWEST_SQUADS


@dataclass(frozen=True, slots=True)
class WeightChange:
    """The smallest change of weights at which the places change hands."""

    shift: Fraction
    """Share of the whole weight that moves from some events to others: 0.05 is 5 of 100 points. 0: they tie now."""
    weights: Mapping[str, Fraction]
    """By event: the changed shares, at which the two squads tie (exactly, where both were excused alike)."""
    loses: int
    """The squad that holds a place now, or one of those that tie for the last place."""
    gains: int
    passes: bool
    """Whether other weights yet would put `gains` before `loses` (in a tie for the last place: part the two); if not, a
    tie is all that can be reached."""


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
    """The smallest shift of weight with which a squad without a place reaches one that holds one.

    Exact for a pair of squads that were excused alike: their lead is a weighted sum of the differences in the events. A
    unit of weight moved from event e to event f lowers it by the difference in e less the difference in f. So weight
    goes to the event with the lowest difference, taken first from the events with the highest, until the lead is gone.
    For a pair excused from different events see `bot.rules.analysis.weight_reach`; there the shift is found to a
    millionth of the weight. A tie that can be reached and not passed is a change, too. None when no weights move a
    place, and where places go by sections or from a minimum on (`Standings.plain` is false).
    """
    if not result.plain:
        return None
    if result.straddle is not None:
        loses, gains, *_ = result.straddle.squads
        ahead, behind = _counting(result.row(loses)), _counting(result.row(gains))
        passes = can_pass(ahead, behind) or can_pass(behind, ahead)
        return WeightChange(ZERO, dict(result.weights), loses, gains, passes)
    holders = set(result.placed)
    inside = [row for row in result.rows if row.squad_id in holders]
    outside = [row for row in result.rows if row.squad_id not in holders]
    pairs = [(holder, other) for holder in inside for other in outside]
    best: WeightChange | None = None
    # Of equal shifts, one that passes is told rather than a mere tie.
    # Pairs that were excused alike come first: they are quick, and spare most of the others their search.
    for holder, other in sorted(pairs, key=lambda pair: _excused(pair[0]) != _excused(pair[1])):
        found = _pair_change(holder, other, result.weights, best)
        if found is not None and (best is None or (found.shift, best.passes) < (best.shift, found.passes)):
            best = found
    return best


def _pair_change(
    holder: Row, other: Row, weights: Mapping[str, Fraction], best: WeightChange | None
) -> WeightChange | None:
    ahead, behind = _counting(holder), _counting(other)
    passes = can_pass(ahead, behind)
    if holder.total == other.total:
        # A tie-break or a run-off decided between them.
        return WeightChange(ZERO, dict(weights), holder.squad_id, other.squad_id, passes)
    if not passes:
        changed = tied_only(ahead, behind, weights)
    elif ahead.keys() == behind.keys():
        changed = _overtaking({key: ahead[key] - behind[key] if key in ahead else ZERO for key in weights}, weights)
    else:
        changed = nearest_passing(ahead, behind, weights, None if best is None else best.shift)
    if changed is None:
        return None
    return WeightChange(shift_of(weights, changed), changed, holder.squad_id, other.squad_id, passes)


def change_points(result: Standings) -> tuple[Segment, ...] | None:
    """With two events: who holds the places as the first event's share runs from 0 to 1, exactly.

    None for another number of events, when a ranked squad was excused, when no squad is ranked, or where places go by
    sections or from a minimum on.
    """
    keys = list(result.weights)
    if len(keys) != 2 or not result.rows or not result.plain or any(_excused(row) for row in result.rows):
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


def _overtaking(differences: Mapping[str, Fraction], weights: Mapping[str, Fraction]) -> dict[str, Fraction]:
    """The weights at the least shift at which the weighted sum of the differences is gone; one of them is below 0."""
    gap = sum((weights[key] * difference for key, difference in differences.items()), ZERO)
    to = min(differences, key=differences.__getitem__)
    changed = dict(weights)
    for key in sorted(differences, key=differences.__getitem__, reverse=True):
        if gap <= 0:
            break
        per_unit = differences[key] - differences[to]
        amount = min(weights[key], gap / per_unit)
        changed[key] -= amount
        changed[to] += amount
        gap -= amount * per_unit
    return changed


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


def _counting(row: Row) -> dict[str, Fraction]:
    """A squad's points by event, without the events it was excused from."""
    return {event.key: event.points or ZERO for event in row.events if event.state != "excused"}


def _excused(row: Row) -> frozenset[str]:
    return frozenset(event.key for event in row.events if event.state == "excused")


def _points(row: Row, key: str) -> Fraction:
    return next(event.points or ZERO for event in row.events if event.key == key)


def _contribution(row: Row, key: str) -> Fraction:
    return next(event.contribution or ZERO for event in row.events if event.key == key)


def _deviations(values: Sequence[Fraction]) -> list[Fraction]:
    mean = sum(values, ZERO) / len(values)
    return [value - mean for value in values]

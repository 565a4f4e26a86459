"""How firm the winner is: leave out each judge, each criterion, try every other scale, and look at the gap.

A change of winner without one judge is normal with few judges; it asks for a second look, not for another result.
Reference tables B6, B8, C5 and D2.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from math import sqrt
from typing import Literal

from bot.rules.analysis.agreement import counted_sheets, observations
from bot.rules.analysis.confidence_intervals import reach
from bot.rules.analysis.single_changes import SingleChanges
from bot.rules.analysis.standard_errors import precision
from bot.rules.analysis.weight_changes import WeightChange, effective_weights, smallest_change
from bot.rules.analysis.weight_space import Hold, hold
from bot.rules.analysis.what_if import criterion_keys, with_scale, without_criterion, without_judge
from bot.rules.core.refusal import Refusal
from bot.rules.scoring.scales import SCALES
from bot.rules.scoring.severity_model import fit
from bot.rules.scoring.standings import HUNDRED, standings
from bot.rules.scoring.standings_records import Row, Standings
from storage.records.plan import Plan
from storage.records.plan_measures import Measure
from storage.records.scores import ScoreBook

LEAST = Fraction(1, 10)
"""Points of a total below which no number is given."""


@dataclass(frozen=True, slots=True)
class Trial:
    """The standings with one thing changed, beside the official ones."""

    what: Literal["judge", "criterion", "scale"]
    name: str
    """The judge's number, `event.measure.criterion`, or the scale that all measures were put on."""
    placed: tuple[int, ...]
    """Squads that would hold a place, best first."""
    tied: tuple[int, ...]
    """Squads that would tie for the last place."""
    lost: tuple[int, ...]
    """Squads that are ranked officially and could not be ranked so: no sheet left, or not comparable."""
    parted: bool
    """Whether some of these have sheets, and no chain of common judges links them with the others."""
    changed: bool | None
    """Whether other squads would hold, or tie for, a place; None when that cannot be told."""
    refused: str = ""
    """The reason of the refusal when it could not be tried: a scale needs a number that the plan does not give."""


@dataclass(frozen=True, slots=True)
class Closeness:
    """The gap at the last place beside what judges differ by, in points of the total."""

    ahead: int
    """The last squad that holds a place (or the first of a tie), and the next one."""
    behind: int
    gap: Fraction
    error: float | None
    """Standard error of that gap from the judges' scatter; None when it cannot be estimated."""
    freedom: float | None = None
    """Degrees of freedom behind that error."""

    @property
    def close(self) -> bool | None:
        """Whether the two are closer than judges differ; None when that cannot be told."""
        return None if self.error is None else float(self.gap) < self.error

    @property
    def reach(self) -> float | None:
        """How far the interval of the gap goes to either side; None when that cannot be told."""
        return None if self.error is None or self.freedom is None else reach(self.error, self.freedom)

    @property
    def clear(self) -> bool | None:
        """Whether the gap is more than chance in the judges' marks gives it; None when that cannot be told."""
        return None if self.reach is None else float(self.gap) > self.reach


@dataclass(frozen=True, slots=True)
class Firmness:
    """Everything about how firm the places are, but for the bootstrap."""

    trials: tuple[Trial, ...]
    weights: WeightChange | None
    """The smallest change of weights that changes who gets a place; None when there is none."""
    hold: Hold | None
    effective: dict[str, Fraction] | None
    """By event: its share in the variance of the totals."""
    closeness: Closeness | None


def firmness(book: ScoreBook, result: Standings, seed: int = 1) -> Firmness:
    """How firm the places of these standings of this book are."""
    quick = SingleChanges(book, result)
    return Firmness(
        trials=(
            *without_each_judge(book, result, quick),
            *without_each_criterion(book, result, quick),
            *on_each_scale(book, result, quick),
        ),
        weights=smallest_change(result),
        hold=hold(result, seed),
        effective=effective_weights(result),
        closeness=closeness(book.plan, result),
    )


def nobody_is_next(firm: Firmness, result: Standings) -> bool:
    """Whether there is no next squad that the place could go to: then that is told, and no change is tried in words."""
    return firm.closeness is None and result.plain


def without_each_judge(book: ScoreBook, result: Standings, quick: SingleChanges | None = None) -> Iterator[Trial]:
    """The standings without each judge whose marks count, by the judges' numbers."""
    seen = {
        (s.judge_number, s.judge_id) for each in counted_sheets(result).values() for on in each.values() for s in on
    }
    for number, judge_id in sorted(seen):
        yield _trial(
            "judge",
            str(number),
            result,
            partial(quick.without_judge, judge_id) if quick else _unknown,
            partial(without_judge, book, judge_id),
        )


def without_each_criterion(book: ScoreBook, result: Standings, quick: SingleChanges | None = None) -> Iterator[Trial]:
    """The standings without each criterion of rubrics that have more than one, in the plan's order."""
    for key in criterion_keys(book.plan):
        where, _, criterion = key.rpartition(".")
        yield _trial(
            "criterion",
            key,
            result,
            partial(quick.without_criterion, where, criterion) if quick else _unknown,
            partial(without_criterion, book, key),
        )


def on_each_scale(book: ScoreBook, result: Standings, quick: SingleChanges | None = None) -> Iterator[Trial]:
    """The standings with every measure on one and the same scale, for each scale that is not official already."""
    official = {measure.scale for event in book.plan.events for measure in event.measures}
    for scale in SCALES:
        if official != {scale}:
            yield _trial(
                "scale",
                scale,
                result,
                partial(quick.on_scale, scale) if quick else _unknown,
                partial(with_scale, book, scale),
            )


def closeness(plan: Plan, result: Standings) -> Closeness | None:
    """The gap between the last squad that holds a place and the next, and its standard error from the judges.

    Each rubric's fit gives the error of the difference of the two adjusted means; on a scale that is linear there it
    becomes points of the total, and several rubrics add in squares, with the degrees of freedom of F. E. Satterthwaite
    (1946): (sum of s^2)^2 / sum of (s^4 / f). None when there is no next squad, or where places go by sections or from
    a minimum on.
    """
    if len(result.rows) <= result.places or not result.plain:
        return None
    ahead, behind = result.rows[result.places - 1], result.rows[result.places]
    gap = (ahead.total or Fraction(0)) - (behind.total or Fraction(0))
    errors = [_error(plan, result, about, ahead, behind) for about in counted_sheets(result)]
    known = [found for found in errors if found is not None]
    if not known or len(known) < len(errors):
        return Closeness(ahead.squad_id, behind.squad_id, gap, None)
    error = sqrt(sum(one * one for one, _ in known))
    # Rubrics without any scatter add nothing, and have no say in the degrees of freedom.
    shares = sum((one / error) ** 4 / freedom for one, freedom in known) if error else 1 / known[0][1]
    return Closeness(ahead.squad_id, behind.squad_id, gap, error, 1 / shares)


def _unknown() -> None:
    """No quick answer."""


def _trial(
    what: Literal["judge", "criterion", "scale"],
    name: str,
    result: Standings,
    quickly: Callable[[], tuple[int, ...] | None],
    changed: Callable[[], ScoreBook],
) -> Trial:
    try:
        placed = quickly()
        if placed is not None:
            return Trial(what, name, placed, (), (), False, _holders(result) != (set(placed), set()))
        tried = standings(changed())
    except Refusal as refusal:
        return Trial(what, name, (), (), (), False, None, refusal.reason)
    now, then = _holders(result), _holders(tried)
    lost = tuple(row.squad_id for row in tried.unranked if result.row(row.squad_id).rank is not None)
    differs = None if (now[0] | now[1]) & set(lost) else now != then
    parted = any(squad in lost and gap.kind == "unconnected" for squad, gap in tried.gaps)
    tied = () if tried.straddle is None else tried.straddle.squads
    return Trial(what, name, tried.placed, tied, lost, parted, differs)


def _holders(result: Standings) -> tuple[set[int], set[int]]:
    return set(result.placed), set() if result.straddle is None else set(result.straddle.squads)


def _error(plan: Plan, result: Standings, about: tuple[str, str], ahead: Row, behind: Row) -> tuple[float, int] | None:
    """One rubric's part in the error of the gap, in points of the total, and its degrees of freedom."""
    event, measure = about
    slope = _slope(
        next(m for e in plan.events if e.key == event for m in e.measures if m.key == measure), result, about
    )
    sheets = counted_sheets(result)[about]
    if slope is None or ahead.squad_id not in sheets or behind.squad_id not in sheets:
        return None
    weights = {sheet.judge_id: sheet.weight for each in sheets.values() for sheet in each}
    seen = observations(sheets)
    fitted = fit(seen, weights)
    errors = precision(seen, fitted, weights)
    # What a sheet point is worth differs between the two where one of them is excused from another event.
    one, other = (
        float(HUNDRED * e.share * m.share * slope)
        for row in (ahead, behind)
        for e in row.events
        if e.key == event
        for m in e.measures
        if m.key == measure
    )
    error = None if errors is None else errors.difference(ahead.squad_id, behind.squad_id, (one, other))
    return None if error is None else (error, fitted.freedom)


def _slope(measure: Measure, result: Standings, about: tuple[str, str]) -> Fraction | None:
    """How much the scaled value grows with one sheet point; None on a scale of ranks, or without two values."""
    if measure.scale == "rank":
        return None
    if measure.scale == "between" and measure.floor is not None and measure.full is not None:
        return 1 / abs(Fraction(measure.full) - Fraction(measure.floor))
    reached = sorted(
        (score.value, score.scaled)
        for row in result.rows
        for event in row.events
        for score in event.measures
        if (event.key, score.key) == about and score.value is not None and score.scaled is not None
    )
    if not reached:
        # Sheets are there, but nobody has a value: all were absent or excused.
        return None
    (low, low_scaled), (high, high_scaled) = reached[0], reached[-1]
    return None if low == high else (high_scaled - low_scaled) / (high - low)

"""The draft of a squad's feedback: what it did well and its next step, from its own marks and values alone."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.scoring.standings_records import MeasureScore, Row
from storage.records.plan import Plan
from storage.records.plan_measures import Checklist, Count, Criterion, Item, Measure, Number, Rubric, Time
from storage.records.scores import Attempt

STRENGTHS = 2


@dataclass(frozen=True, slots=True)
class Point:
    """One criterion, or one measure without a rubric, in a squad's own work."""

    event: str
    measure: str
    criterion: str | None
    reached: Fraction
    """0 to 1 of what is possible: for a criterion (mean level - 1) / (levels - 1)."""
    mean: Fraction | None = None
    """For a criterion: the mean of the judges whose marks count."""
    level: int | None = None
    """For a criterion: the level whose descriptor fits, the mean rounded half up."""
    upper: bool = False
    """Whether it lies in the upper half: of the levels, both the mean and the level that fits; else of the scale."""
    good: bool = True
    """Whether what was reached is something to praise: not mistakes, or what else is better the less there is of it."""


@dataclass(frozen=True, slots=True)
class Draft:
    """At most two strengths, best first; without one, what is strongest so far; one next step. No point is named twice.

    A strength lies in the upper half of the levels, or of the scale. What is better the less there is of it is one only
    where there is none of it; a time on the clock is one like any other.
    """

    strengths: tuple[Point, ...]
    step: Point | None
    strongest: Point | None = None
    """Only where there is no strength and one point stands above the others."""


def draft(plan: Plan, row: Row) -> Draft:
    """The points of a squad's feedback. Criteria come before measures, which only fill in where there are too few.

    Equal points stand in the plan's order. What already reached the top is no next step.
    """
    points = _points(plan, row)
    criteria = [point for point in points if point.criterion is not None]
    chosen = criteria if len(criteria) > STRENGTHS else points
    best = sorted((point for point in chosen if point.good), key=lambda point: -point.reached)
    strengths = tuple(point for point in best[:STRENGTHS] if point.upper)
    left = [point for point in chosen if point not in strengths and point.reached < 1]
    step = min(left, key=lambda point: point.reached, default=None)
    if strengths or step is None or not best or best[0].reached <= step.reached:
        return Draft(strengths, step)
    return Draft((), step, best[0])


def _points(plan: Plan, row: Row) -> list[Point]:
    found: list[Point] = []
    for event, scored in zip(plan.events, row.events, strict=True):
        if scored.state == "scored":
            for measure, score in zip(event.measures, scored.measures, strict=True):
                found.extend(_of_measure(event.key, measure, score))
    return found


def _of_measure(event: str, measure: Measure, score: MeasureScore) -> Sequence[Point]:
    if isinstance(measure, Rubric):
        sheets = [sheet for sheet in score.sheets if not sheet.shown_only]
        return [
            _of_criterion(event, measure, criterion, [sheet.marks[criterion.key] for sheet in sheets])
            for criterion in measure.criteria
            if sheets
        ]
    if score.scaled is None:
        return []
    reached = min(max(score.scaled, Fraction(0)), Fraction(1))
    good = not lower_is_better(measure) or isinstance(measure, Time) or _is_none(measure, score.value)
    return [Point(event, measure.key, None, reached, upper=reached > Fraction(1, 2), good=good)]


def _is_none(measure: Measure, value: Fraction | None) -> bool:
    """Whether there is none of what is counted or measured, and there cannot be less."""
    return value == 0 and (not isinstance(measure, Number) or measure.lowest == 0)


def _of_criterion(event: str, rubric: Rubric, criterion: Criterion, marks: Sequence[int]) -> Point:
    mean = Fraction(sum(marks), len(marks))
    level = int(mean + Fraction(1, 2))
    middle = Fraction(len(criterion.levels) + 1, 2)
    return Point(
        event=event,
        measure=rubric.key,
        criterion=criterion.key,
        reached=(mean - 1) / (len(criterion.levels) - 1),
        mean=mean,
        level=level,
        upper=mean > middle and level > middle,
    )


def standing_attempt(measure: Count | Checklist, score: MeasureScore, attempts: Iterable[Attempt]) -> Attempt | None:
    """The one attempt that made the value; None where several made it together."""
    made = {one.id: one for one in attempts}
    if measure.keep == "best" or len(score.attempts) == 1:
        return next((made[one.attempt_id] for one in score.attempts if one.value == score.value), None)
    return None


def most_of(measure: Measure, item: Item) -> int | None:
    """How many there are, as the plan says it or as its maximum of one kind of thing means it."""
    if item.most is not None:
        return item.most
    if not isinstance(measure, Count) or len(measure.items) > 1 or measure.better == "lower":
        return None
    if measure.scale != "maximum" or measure.maximum is None or measure.over_maximum == "count":
        return None
    most = Fraction(measure.maximum) / Fraction(item.points)
    return int(most) if most.denominator == 1 and most > 0 else None

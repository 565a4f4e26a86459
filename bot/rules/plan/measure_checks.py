"""What must hold in each measure of a plan: its scale, its range, its points and its panel fit each other."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.plan.plan_key_checks import MEASURES
from bot.rules.plan.plan_problems import Path, PlanProblem, read_part, tables
from storage.records.plan_measures import Checklist, Count, Measure, Number, Rubric, Share, Time

TRIMMED_FROM = 5
"""A trimmed mean drops the highest and the lowest sheet, which needs five judges."""


def measure_problems(data: Mapping[str, Any]) -> Iterator[PlanProblem]:
    """Every broken rule within a measure, of those that can be read."""
    for path, measure in _measures(data):
        yield from _scale(path, measure)
        yield from _kind(path, measure)


def _measures(data: Mapping[str, Any]) -> Iterator[tuple[Path, Measure]]:
    """The measures that can be read, with their places."""
    for event_path, event in tables(data, "events"):
        for path, entry in tables(event, "measures", event_path):
            model = MEASURES.get(str(entry.get("kind")))
            measure = read_part(model, entry) if model else None
            if measure is not None:
                yield path, measure


def _scale(path: Path, measure: Measure) -> Iterator[PlanProblem]:
    if measure.scale == "maximum" and isinstance(measure, Count) and measure.maximum is None:
        yield PlanProblem((*path, "maximum"), "scale_maximum")
    if measure.scale == "between":
        ends = {"floor": measure.floor, "full": measure.full}
        yield from (PlanProblem((*path, end), "scale_between") for end, value in ends.items() if value is None)
        if measure.floor is not None and measure.floor == measure.full:
            yield PlanProblem((*path, "full"), "scale_ends_equal", measure.full)
    if isinstance(measure, Count | Number | Time):
        yield from _direction(path, measure)


def _direction(path: Path, measure: Count | Number | Time) -> Iterator[PlanProblem]:
    """Scales that would reward what the plan calls worse, or divide by nothing."""
    lower, floor, full = lower_is_better(measure), measure.floor, measure.full
    both = floor is not None and full is not None and floor != full
    if measure.scale == "between" and both and lower != (Decimal(floor or 0) > Decimal(full or 0)):
        kind = "time_ends" if isinstance(measure, Time) else "lower_ends" if lower else "higher_ends"
        yield PlanProblem((*path, "full"), kind, full, {"floor": floor})
    if isinstance(measure, Time):
        return
    lowest = measure.lowest if isinstance(measure, Number) else 0
    if measure.scale == "best" and lower and lowest <= 0:
        yield PlanProblem((*path, "scale"), "best_lower", measure.scale, {"lowest": lowest})
    elif measure.scale in ("best", "maximum") and lowest < 0:
        yield PlanProblem((*path, "scale"), "scale_negative", measure.scale, {"lowest": lowest})


def _points(path: Path, measure: Measure) -> Iterator[PlanProblem]:
    """Points of 0, and lists in which nothing earns anything."""
    entries = {Count: "items", Checklist: "lines"}.get(type(measure))
    if entries is None:
        return
    points = [entry.points for entry in getattr(measure, entries)]
    for place in (place for place, one in enumerate(points) if one == 0):
        yield PlanProblem((*path, entries, place, "points"), "zero_points", 0)
    if all(one < 0 for one in points):
        yield PlanProblem((*path, entries), "only_penalties")


def _kind(path: Path, measure: Measure) -> Iterator[PlanProblem]:
    yield from _points(path, measure)
    if isinstance(measure, Number):
        yield from _range(path, measure)
    if not isinstance(measure, Rubric | Share) and measure.keep == "mean-of-best-two" and measure.attempts < 2:
        yield PlanProblem((*path, "attempts"), "two_attempts", measure.attempts)
    if isinstance(measure, Rubric) and measure.panel == "trimmed":
        judges = measure.judges_per_squad
        if judges is not None and judges < TRIMMED_FROM:
            yield PlanProblem((*path, "judges_per_squad"), "trimmed_judges", judges, {"least": TRIMMED_FROM})


def _range(path: Path, measure: Number) -> Iterator[PlanProblem]:
    if measure.lowest >= measure.highest:
        yield PlanProblem((*path, "highest"), "range_ends", measure.highest, {"lowest": measure.lowest})
    for name in ("lowest", "highest"):
        end = getattr(measure, name)
        if end != round(end, measure.decimals):
            yield PlanProblem((*path, name), "range_decimals", end, {"decimals": measure.decimals})
    if measure.scale == "maximum" and measure.maximum is None and measure.highest <= 0:
        yield PlanProblem((*path, "maximum"), "scale_maximum")

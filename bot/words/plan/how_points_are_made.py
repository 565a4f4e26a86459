"""How points are made, in plain words: every number of the plan that enters a total."""

from collections.abc import Collection
from decimal import Decimal
from fractions import Fraction

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.plan.measure_checks import TRIMMED_FROM
from bot.rules.scoring.scales import highest_value
from bot.rules.scoring.tie_breaks import can_be_run_off
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, exact, exact_percent
from bot.words.core.plain_text import escape
from bot.words.core.times import seconds_text
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Criterion, Measure, Number, Rubric, Share, Time

PANEL_RULES = {
    "mean": "The mean of the judges counts.",
    "median": "The middle of the judges' sheets counts.",
    "trimmed": f"From {TRIMMED_FROM} judges up, the highest and the lowest sheet are left out; "
    "the mean of the others counts.",
    "adjusted": "The sheets are evened out between mild and strict judges before the mean is taken.",
}
"""How the sheets of a squad's judges become one value, by what the plan says."""
ZERO = Decimal(0)


def measure_points(event: Event, measure: Measure) -> str:
    """How a measure becomes a part of its event's points, below the line that says what is measured."""
    lines = [*_before(measure), _scale(measure)]
    if len(event.measures) > 1:
        whole = sum((one.weight for one in event.measures), ZERO)
        lines.append(f"This is {exact(measure.weight)} of {exact(whole)} parts of the event.")
    return "Points: " + " ".join(lines)


def _before(measure: Measure) -> list[str]:
    match measure:
        case Time():
            faults = [f"Each fault adds {seconds_text(measure.fault_seconds)}."] if measure.fault_seconds else []
            if measure.scale == "between" and measure.floor == measure.limit:
                return faults  # The scale says that this long gives none.
            return [*faults, f"Whoever does not finish in {seconds_text(measure.limit)} gets none."]
        case Rubric():
            some = measure.judges_per_squad
            judges = [f"{count(some, 'judge')} see each squad." if some else "All judges see each squad."]
            return [*judges, "Each judge adds up the levels.", PANEL_RULES[measure.panel]]
        case Share():
            return [] if measure.scale == "maximum" else ["The members who took part are divided by all members."]
        case _:
            return []


def _scale(measure: Measure) -> str:
    lower = lower_is_better(measure)
    match measure.scale:
        case "maximum":
            return _maximum(measure, lower)
        case "between":
            return _between(measure)
        case "best":
            part = "the best value divided by their own" if lower else "their own value divided by the best"
            return f"The best squad gets full marks. The others: {part}."
        case "rank":
            return (
                "Only the order of the squads counts: the first gets full marks, the last none, evenly in between. "
                "Equal squads share."
            )
        case "standard":
            return (
                "The mean of all squads gives half of the marks; each standard deviation gives 10 of 100 more or less."
            )


def _maximum(measure: Measure, lower: bool) -> str:
    top, none = amount(measure, highest_value(measure)), amount(measure, Fraction(0))
    if lower:
        return f"{none} gives full marks, {top} or more gives none, evenly in between."
    if isinstance(measure, Share):
        return "Full marks if everyone takes part, half if half of you do."
    if isinstance(measure, Rubric):
        return f"{top} are full marks, {exact(highest_value(measure) / 2)} are half."
    if measure.over_maximum == "count":
        return f"{top} gives full marks, {none} gives none, and it goes on evenly above full marks."
    return f"{top} or more gives full marks, {none} gives none, evenly in between."


def _between(measure: Measure) -> str:
    if measure.floor is None or measure.full is None:
        return "The best squad gets full marks, the last none, evenly in between."
    none, top = amount(measure, Fraction(measure.floor)), amount(measure, Fraction(measure.full))
    ends = ("or more", "or less") if measure.full < measure.floor else ("or less", "or more")
    return f"{top} {ends[1]} gives full marks, {none} {ends[0]} gives none, evenly in between."


def amount(measure: Measure, value: Fraction) -> str:
    """So much of what is measured, in its unit."""
    match measure:
        case Time():
            return seconds_text(Decimal(value.numerator) / value.denominator)
        case Number():
            return f"{exact(value)} {escape(measure.unit)}"
        case Share():
            return exact_percent(value)
        case Rubric():
            return f"{exact(value)} {'point' if value == 1 else 'points'} on a sheet"
        case _:
            return f"{exact(value)} {'point' if value == 1 else 'points'}"


def total_points(plan: Plan, started: Collection[str] = ()) -> str:
    """How the events become the total, and what decides between equal totals; surprises not `started` stay unnamed."""
    whole = sum((event.weight for event in plan.events), ZERO)
    parts = [f"{_event_name(event, started)} {exact(event.weight)}" for event in plan.events]
    lines = [
        "**How the total is made**",
        "Full marks in an event are 100 points. Its measures are put together as the parts say.",
        f"The events count: {listing(parts)}; together {exact(whole)}.",
        f"For the total, take each event's points times what it counts. Add that up, and divide by {exact(whole)}.",
        "A squad that is not there gets 0 for an event. If your coach excuses it, the event is left out of its total.",
    ]
    if any(isinstance(one, Rubric) for event in plan.events for one in _read(event, started)):
        lines.append("Judges do not mark a squad in which they know someone.")
    if plan.tie_breaks:
        names = [tie_name(plan, one, started) for one in plan.tie_breaks]
        lines.append(f"Equal totals? Then these are compared, in this order: {', then '.join(names)}.")
    run_off = any(can_be_run_off(one) for event in plan.events for one in _read(event, started))
    onward = "there is a run-off" if run_off else "your coach says how to go on"
    lines.append(f"If all are equal, {onward}." if plan.tie_breaks else f"Equal totals? Then {onward}.")
    return "\n".join(lines)


def _read(event: Event, started: Collection[str]) -> tuple[Measure, ...]:
    return () if event.surprise and event.key not in started else event.measures


def _event_name(event: Event, started: Collection[str]) -> str:
    return "the surprise" if event.surprise and event.key not in started else escape(event.name)


def tie_name(plan: Plan, path: str, started: Collection[str]) -> str:
    """What is compared when totals are equal, by its name; no name of a surprise that is not among the `started`."""
    event_key, *more = path.split(".")
    event = next(one for one in plan.events if one.key == event_key)
    name = _event_name(event, started)
    if not more or (event.surprise and event.key not in started):
        return name
    measure = next(one for one in event.measures if one.key == more[0])
    if len(more) == 1 or not isinstance(measure, Rubric):
        return f"{escape(measure.name)} ({name})"
    criterion = next(one for one in measure.criteria if one.key == more[1])
    return f"{escape(criterion.name)} ({name})"


def times(criterion: Criterion) -> str:
    """How often the level of a criterion counts, where it is not once."""
    return "" if criterion.weight == 1 else f" (counts {exact(criterion.weight)} times)"

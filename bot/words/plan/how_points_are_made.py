"""How points are made, in plain words: every number of the plan that enters a total, and one worked example."""

from collections.abc import Collection
from decimal import Decimal
from fractions import Fraction

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.rounding import rounded
from bot.rules.plan.measure_checks import TRIMMED_FROM
from bot.rules.scoring.measures import highest_sheet
from bot.rules.scoring.scales import Roots, highest_value, scaled
from bot.rules.scoring.tie_breaks import can_be_run_off
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, exact, exact_percent, several
from bot.words.core.plain_text import escape
from bot.words.core.times import seconds_text
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Checklist, Count, Criterion, Measure, Number, Rubric, Share, Time

PANEL_RULES = {
    "mean": "The mean of the judges counts.",
    "median": "The middle of the judges' sheets counts.",
    "trimmed": f"From {TRIMMED_FROM} judges up, the highest and the lowest sheet are left out; "
    "the mean of the others counts.",
    "adjusted": "The sheets are evened out between mild and strict judges before the mean is taken.",
}
"""How the sheets of a squad's judges become one value, by what the plan says."""
ZERO = Decimal(0)
EXAMPLE_PART = Fraction(7, 10)
"""What part of everything the squad of the example reaches, about."""


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
    top, none = _amount(measure, highest_value(measure)), _amount(measure, Fraction(0))
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
    none, top = _amount(measure, Fraction(measure.floor)), _amount(measure, Fraction(measure.full))
    ends = ("or more", "or less") if measure.full < measure.floor else ("or less", "or more")
    return f"{top} {ends[1]} gives full marks, {none} {ends[0]} gives none, evenly in between."


def _amount(measure: Measure, value: Fraction) -> str:
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


def example(plan: Plan, started: Collection[str] = ()) -> str:
    """One worked example, computed as the result is: an invented squad in the first event that may be read."""
    event = next((one for one in plan.events if not one.surprise or one.key in started), None)
    if event is None:
        return ""
    whole, all_events = (
        sum((one.weight for one in event.measures), ZERO),
        sum((one.weight for one in plan.events), ZERO),
    )
    lines, terms, sum_of_parts = ["**An example, made up**"], [], Fraction(0)
    for measure in event.measures:
        said, reached = _reached(measure)
        lines.append(f"• {escape(measure.name)}: {said} gives {exact(reached * 100)} of 100.")
        terms.append(f"{exact(measure.weight)} x {exact(reached * 100)}")
        sum_of_parts += Fraction(measure.weight) * reached * 100
    points = sum_of_parts / Fraction(whole)
    name = escape(event.name)
    if len(event.measures) > 1:
        lines.append(f"{name}: ({' + '.join(terms)}) / {exact(whole)} = {exact(points)} points.")
    given = points * Fraction(event.weight) / Fraction(all_events)
    lines.append(
        f"{name} counts {exact(event.weight)} of {exact(all_events)}: {exact(points)} x {exact(event.weight)} / "
        f"{exact(all_events)} = {exact(given)} points of the total."
    )
    return "\n".join(lines)


def _reached(measure: Measure) -> tuple[str, Fraction]:
    """What the squad of the example has, and what part of full marks that is."""
    if depends_on_others(measure):
        return "a value that, say,", EXAMPLE_PART
    said, value = _value(measure)
    return said, scaled(measure, {1: value}, Roots())[1]


def _value(measure: Measure) -> tuple[str, Fraction]:
    match measure:
        case Share():
            return "3 of 4 members", Fraction(3, 4)
        case Rubric():
            marks = [max(len(criterion.levels) - 1, 1) for criterion in measure.criteria]
            value = sum(
                (Fraction(one.weight) * level for one, level in zip(measure.criteria, marks, strict=True)), Fraction(0)
            )
            return f"one level below the top everywhere, {exact(value)} of {exact(highest_sheet(measure))},", value
        case Checklist():
            ticked = [line for line in measure.lines if line.points > 0]
            ticked = ticked[:-1] or ticked
            value = Fraction(sum((line.points for line in ticked), ZERO))
            return f"{count(len(ticked), 'tick')}, {_amount(measure, value)},", value
        case Count():
            return _counted(measure)
        case Number():
            value = Fraction(rounded(_target(measure), measure.decimals))
            return _amount(measure, value), value
        case Time():
            value = Fraction(int(_target(measure)))
            return _amount(measure, value), value


def _counted(measure: Count) -> tuple[str, Fraction]:
    item = next((one for one in measure.items if one.points > 0), measure.items[0])
    number = max(1, int(_target(measure) / abs(Fraction(item.points))))
    number = min(number, item.most or number)
    value = max(number * Fraction(item.points), Fraction(0))
    return f"{several(number, escape(item.name))} x {exact(item.points)} = {_amount(measure, value)}", value


def _target(measure: Measure) -> Fraction:
    """A value at which the example has about `EXAMPLE_PART` of full marks."""
    if measure.scale == "between" and measure.floor is not None and measure.full is not None:
        floor = Fraction(measure.floor)
        return floor + (Fraction(measure.full) - floor) * EXAMPLE_PART
    part = 1 - EXAMPLE_PART if lower_is_better(measure) else EXAMPLE_PART
    return highest_value(measure) * part


def depends_on_others(measure: Measure) -> bool:
    """Whether what a value gives cannot be told without those of the other squads."""
    return measure.scale in ("best", "rank", "standard") or (measure.scale == "between" and measure.floor is None)


def times(criterion: Criterion) -> str:
    """How often the level of a criterion counts, where it is not once."""
    return "" if criterion.weight == 1 else f" (counts {exact(criterion.weight)} times)"

"""The worked example under how points are made: what an invented squad has, and what that gives, step by step."""

from collections.abc import Collection
from fractions import Fraction

from bot.rules.plan import worked_example as rules
from bot.rules.scoring.measures import highest_sheet
from bot.rules.scoring.scales import Roots, highest_value, scaled
from bot.words.core.number_text import count, exact, several
from bot.words.core.plain_text import escape
from bot.words.plan.how_points_are_made import ZERO, amount
from storage.records.plan import Plan
from storage.records.plan_measures import Checklist, Count, Measure, Number, Rubric, Share, Time


def worked_example(plan: Plan, started: Collection[str] = ()) -> str:
    """One worked example, computed as the result is: an invented squad in the first event that may be read."""
    event = rules.event_of_example(plan, started)
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
    if rules.depends_on_others(measure):
        return "a value that, say,", rules.PART
    said, value = _value(measure)
    return said, scaled(measure, {1: value}, Roots())[1]


def _value(measure: Measure) -> tuple[str, Fraction]:
    match measure:
        case Share():
            return f"{rules.TOOK_PART} of {rules.MEMBERS} members", Fraction(rules.TOOK_PART, rules.MEMBERS)
        case Rubric():
            value = rules.sheet(measure)
            return f"one level below the top everywhere, {exact(value)} of {exact(highest_sheet(measure))},", value
        case Checklist():
            ticked = rules.ticked(measure)
            value = rules.points(ticked)
            return f"{count(len(ticked), 'tick')}, {amount(measure, value)},", value
        case Count():
            item, number = rules.counted(measure, highest_value(measure))
            value = max(number * Fraction(item.points), Fraction(0))
            return f"{several(number, escape(item.name))} x {exact(item.points)} = {amount(measure, value)}", value
        case Number() | Time():
            value = rules.measured(measure, highest_value(measure))
            return amount(measure, value), value

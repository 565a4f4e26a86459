"""The worked example of how points are made: of which event, and what its invented squad has reached."""

from collections.abc import Collection
from decimal import Decimal
from fractions import Fraction

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.rounding import rounded
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Check, Checklist, Count, Item, Measure, Number, Rubric, Time

PART = Fraction(7, 10)
"""What part of everything the squad of the example reaches, about."""
TOOK_PART, MEMBERS = 3, 4
"""So many of so many members of the squad took part."""


def event_of_example(plan: Plan, started: Collection[str]) -> Event | None:
    """The first event that may be read: no surprise that is not among the `started`."""
    return next((one for one in plan.events if not one.surprise or one.key in started), None)


def depends_on_others(measure: Measure) -> bool:
    """Whether what a value gives cannot be told without those of the other squads."""
    return measure.scale in ("best", "rank", "standard") or (measure.scale == "between" and measure.floor is None)


def sheet(measure: Rubric) -> Fraction:
    """What the sheet of the example gives: each criterion was marked one level below the top."""
    levels = [(criterion, max(len(criterion.levels) - 1, 1)) for criterion in measure.criteria]
    return sum((Fraction(criterion.weight) * level for criterion, level in levels), Fraction(0))


def ticked(measure: Checklist) -> list[Check]:
    """What was ticked: all that gives points but the last."""
    giving = [line for line in measure.lines if line.points > 0]
    return giving[:-1] or giving


def counted(measure: Count, highest: Fraction) -> tuple[Item, int]:
    """What was counted, and how many: of the first thing that gives points, about as many as `PART` takes."""
    item = next((one for one in measure.items if one.points > 0), measure.items[0])
    number = max(1, int(target(measure, highest) / abs(Fraction(item.points))))
    return item, min(number, item.most or number)


def measured(measure: Number | Time, highest: Fraction) -> Fraction:
    """What was measured: as exact as it is typed, seconds whole."""
    if isinstance(measure, Number):
        return Fraction(rounded(target(measure, highest), measure.decimals))
    return Fraction(int(target(measure, highest)))


def target(measure: Measure, highest: Fraction) -> Fraction:
    """A value at which the squad has about `PART` of full marks; `highest` is what gives all of them."""
    if measure.scale == "between" and measure.floor is not None and measure.full is not None:
        floor = Fraction(measure.floor)
        return floor + (Fraction(measure.full) - floor) * PART
    part = 1 - PART if lower_is_better(measure) else PART
    return highest * part


def points(lines: Collection[Check]) -> Fraction:
    """What these lines of a checklist give together."""
    return Fraction(sum((line.points for line in lines), Decimal(0)))

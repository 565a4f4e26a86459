"""Values in words: an attempt with the sum behind it, and a measure in its unit."""

from decimal import Decimal
from fractions import Fraction

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.scoring.measures import attempt_value
from bot.words.core.number_text import clock, exact, several
from bot.words.core.plain_text import escape
from storage.records.plan_measures import Checklist, Count, Measure, Number, Time
from storage.records.scores import Attempt


def value_text(measure: Measure, attempt: Attempt) -> str:
    """An attempt with the sum behind it, such as `14 socks x 10 = 140 points`."""
    if isinstance(measure, Count):
        return _count_text(measure, attempt)
    if isinstance(measure, Number):
        return amount_text(measure, attempt.amount or 0)
    if isinstance(measure, Checklist):
        return _checklist_text(measure, attempt)
    if isinstance(measure, Time):
        return _time_text(measure, attempt)
    return f"{attempt.contributing} of {several(attempt.members or 0, 'member')} took part"


def _count_text(measure: Count, attempt: Attempt) -> str:
    total = ""
    for item in measure.items:
        sign = "-" if item.points < 0 else "+"
        term = f"{several(attempt.items.get(item.key, 0), escape(item.name))} x {exact(abs(item.points))}"
        total += f" {sign} {term}" if total else f"{'-' if item.points < 0 else ''}{term}"
    off = attempt.deductions if measure.better == "lower" else -attempt.deductions
    if off:
        total += f" {'-' if off < 0 else '+'} {exact(abs(off))}"
    points = sum((item.points * attempt.items.get(item.key, 0) for item in measure.items), off)
    return _sum_text(total, points)


def _checklist_text(measure: Checklist, attempt: Attempt) -> str:
    """The ticked lines with their points and the sum, such as `2 of 3 ticked (Roof +1, Door +1) = 2 points`."""
    ticked = [line for line in measure.lines if attempt.items.get(line.key)]
    each = [f"{escape(line.name)} {'+' if line.points > 0 else ''}{exact(line.points)}" for line in ticked]
    names = ", ".join(each) or "none"
    total = f"{len(ticked)} of {len(measure.lines)} ticked ({names})"
    return _sum_text(total, sum((line.points for line in ticked), Decimal(0)))


def _sum_text(total: str, points: Decimal) -> str:
    if points < 0:
        return f"{total} is below 0, so 0 points"
    return f"{total} = {exact(points)} {'point' if points == 1 else 'points'}"


def amount_text(measure: Number, amount: Decimal | Fraction | int) -> str:
    """A measured value with its unit, such as `12.35 kg`."""
    return f"{exact(Fraction(amount))} {escape(measure.unit)}"


def lower_note(measure: Measure) -> str:
    """` (lower is better)` where that has to be said; of a time everybody knows."""
    return " (lower is better)" if not isinstance(measure, Time) and lower_is_better(measure) else ""


def _time_text(measure: Time, attempt: Attempt) -> str:
    if attempt.seconds is None:
        return "did not finish"
    text = clock(attempt.seconds)
    if attempt.seconds > measure.limit:
        return f"{text} is over the limit of {clock(measure.limit)}, so it did not finish"
    if not attempt.faults:
        return text
    value = attempt_value(measure, attempt)
    assert value is not None
    return f"{text} + {several(attempt.faults, 'fault')} x {exact(measure.fault_seconds)} s = {clock(value)}"


def value_of(measure: Measure, value: Fraction | None) -> str:
    """A measure's value in its own unit."""
    if value is None:
        return "did not finish"
    if isinstance(measure, Time):
        return clock(value)
    if isinstance(measure, Number):
        return amount_text(measure, value)
    if isinstance(measure, Count | Checklist):
        return f"{exact(value)} {'point' if value == 1 else 'points'}"
    return exact(value)

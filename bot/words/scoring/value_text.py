"""A measure's value in its own unit."""

from fractions import Fraction

from bot.words.core.number_text import clock, exact
from bot.words.scorekeeping.attempt_values import amount_text
from storage.records.plan import Checklist, Count, Measure, Number, Time


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

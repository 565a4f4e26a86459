"""What the scorekeeper is asked when a value looks like a slip."""

from fractions import Fraction

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.parse_numbers import looks_like_minutes
from bot.rules.scoring.measures import attempt_value
from bot.words.core.number_text import clock, exact, several
from bot.words.core.plain_text import escape
from storage.records.plan_measures import Count, Measure, Number, Time
from storage.records.scores import Attempt

CHANGE = "Change it"
"""The button beside a value that was read back."""


def slip_note(measure: Measure, attempt: Attempt) -> str:
    """A question when a value looks like a slip: more than there are, above the maximum, minutes typed as seconds."""
    if isinstance(measure, Count):
        for item in measure.items:
            if item.most is not None and attempt.items.get(item.key, 0) > item.most:
                typed = several(attempt.items[item.key], escape(item.name))
                return f"\n**{typed}? There are only {item.most}.** If that is a slip, press **{CHANGE}**."
    if isinstance(measure, Count | Number) and measure.maximum is not None and not lower_is_better(measure):
        value = attempt_value(measure, attempt)
        if value is not None and value > Fraction(measure.maximum):
            unit = escape(measure.unit) if isinstance(measure, Number) else "points"
            return f"\nThe most in the plan is {exact(measure.maximum)} {unit}. If that is a slip, press **{CHANGE}**."
    if not isinstance(measure, Time) or attempt.seconds is None:
        return ""
    if attempt.seconds > measure.limit:
        return f"\nThat is longer than the limit. Did you mean something else? If so, press **{CHANGE}**."
    meant = looks_like_minutes(attempt.seconds)
    if meant is not None:
        return f"\nI read that as seconds. If you meant {clock(meant)}, press **{CHANGE}** and type {clock(meant)}."
    return ""

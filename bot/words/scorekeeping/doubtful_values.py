"""What the scorekeeper is asked when a value looks like a slip."""

from bot.rules.scorekeeping.doubtful_values import slip
from bot.words.core.number_text import clock, exact, several
from bot.words.core.plain_text import escape
from storage.records.plan_measures import Count, Measure, Number
from storage.records.scores import Attempt

CHANGE = "Change it"
"""The button beside a value that was read back."""


def slip_note(measure: Measure, attempt: Attempt) -> str:
    """A question when a value looks like a slip: more than there are, above the maximum, minutes typed as seconds."""
    found = slip(measure, attempt)
    if found is None:
        return ""
    if found.item is not None:
        typed = several(attempt.items[found.item.key], escape(found.item.name))
        return f"\n**{typed}? There are only {found.item.most}.** If that is a slip, press **{CHANGE}**."
    if found.meant is not None:
        meant = clock(found.meant)
        return f"\nI read that as seconds. If you meant {meant}, press **{CHANGE}** and type {meant}."
    if isinstance(measure, Count | Number) and measure.maximum is not None:
        unit = escape(measure.unit) if isinstance(measure, Number) else "points"
        return f"\nThe most in the plan is {exact(measure.maximum)} {unit}. If that is a slip, press **{CHANGE}**."
    return f"\nThat is longer than the limit. Did you mean something else? If so, press **{CHANGE}**."

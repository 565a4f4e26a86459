"""When a value at the table looks like a slip, so that it is asked about before it is saved."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.scorekeeping.typed_times import looks_like_minutes
from bot.rules.scoring.measures import attempt_value
from storage.records.plan_measures import Count, Item, Measure, Number, Time
from storage.records.scores import Attempt


@dataclass(frozen=True, slots=True)
class Slip:
    """Why a value is doubted."""

    what: Literal["more than there are", "above the maximum", "over the limit", "minutes as seconds"]
    item: Item | None = None
    """Of which there are not so many."""
    meant: Decimal | None = None
    """Seconds that were perhaps meant."""


def slip(measure: Measure, attempt: Attempt) -> Slip | None:
    """The first thing about a value that looks like a slip; None where nothing does."""
    if isinstance(measure, Count):
        for item in measure.items:
            if item.most is not None and attempt.items.get(item.key, 0) > item.most:
                return Slip("more than there are", item=item)
    if isinstance(measure, Count | Number) and measure.maximum is not None and not lower_is_better(measure):
        value = attempt_value(measure, attempt)
        if value is not None and value > Fraction(measure.maximum):
            return Slip("above the maximum")
    if not isinstance(measure, Time) or attempt.seconds is None:
        return None
    if attempt.seconds > measure.limit:
        return Slip("over the limit")
    meant = looks_like_minutes(attempt.seconds)
    return None if meant is None else Slip("minutes as seconds", meant=meant)

"""The run pad: from taps to counts, and when a run's time is over."""

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.plan_measures import Count, Item, Measure
from storage.records.run_pads_and_stopwatches import PadRun, Tap

NO_POINTS_OFF = "0"
"""A pad counts none: they are typed."""


def check_counts(measure: Measure) -> Count:
    """Only a count has a run pad; Refusal `no_measure`."""
    if not isinstance(measure, Count):
        raise Refusal(TableReason.NO_MEASURE)
    return measure


def check_open(run: PadRun, withdrawn: bool) -> None:
    """A run can be counted until it is saved or run again, of a squad that is there. Raises Refusal: `pad_closed`."""
    if run.state != "open" or withdrawn:
        raise Refusal(DayReason.PAD_CLOSED)


def totals(measure: Count, taps: Iterable[Tap]) -> dict[str, int]:
    """How many of each item of the plan have been tapped, never below 0; undone taps count nothing.

    Taps are added in the order in which they were kept, whoever made them, so that two people on one pad add up.
    """
    found = {item.key: 0 for item in measure.items}
    for tap in taps:
        if tap.undone_at is None and tap.item in found:
            found[tap.item] = max(0, found[tap.item] + tap.step)
    return found


def last_of(taps: Sequence[Tap], who: int) -> Tap | None:
    """The last tap of one person that is not undone: what *Undo* undoes."""
    return next((tap for tap in reversed(taps) if tap.tapped_by == who and tap.undone_at is None), None)


def unseen(taps: Iterable[Tap]) -> int:
    """How many presses have been kept although the phone may have said that they failed, and still matter."""
    return sum(tap.unseen is not None and (tap.unseen == "undo") == (tap.undone_at is not None) for tap in taps)


def ends_at(measure: Count, run: PadRun) -> datetime | None:
    """When the run's time is over; None where the clock does not run or the plan gives no time."""
    if run.started_at is None or measure.seconds is None:
        return None
    return run.started_at + timedelta(seconds=float(measure.seconds))


def after_end(measure: Count, run: PadRun, taps: Iterable[Tap]) -> int:
    """How many taps that count came after the end."""
    end = ends_at(measure, run)
    return 0 if end is None else sum(tap.undone_at is None and tap.tapped_at > end for tap in taps)


def none_left(way: Literal["more", "less"], total: int) -> bool:
    """Whether there is none of an item to take off."""
    return way == "less" and not total


def more_than_there_are(item: Item, way: Literal["more", "less"], total: int) -> bool:
    """Whether one more of an item, of which so many are counted, is more than there are: it counts, and is said."""
    return way == "more" and item.most is not None and total >= item.most


def people_counting(taps: Iterable[Tap]) -> int:
    """How many people have tapped what counts."""
    return len({one.tapped_by for one in taps if one.undone_at is None})

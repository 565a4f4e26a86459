"""Stopwatches: what is timed, between which presses; when one was forgotten, and how many are shown at the table."""

from datetime import datetime, timedelta
from decimal import Decimal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan_measures import Time

LOST_AFTER = timedelta(minutes=30)
"""A clock that ran this much over the limit was forgotten."""
MOST_SHOWN = 3
"""So many of the clocks that run are shown beside the measures, the newest ones."""


def check_time(measure: object) -> Time:
    """Only a time has a stopwatch; Refusal `no_measure`."""
    if not isinstance(measure, Time):
        raise Refusal(Reason.NO_MEASURE)
    return measure


def is_forgotten(measure: Time, since: datetime, now: datetime) -> bool:
    """Whether nobody waits for a clock any more that has run since then."""
    return now - since > timedelta(seconds=float(measure.limit)) + LOST_AFTER


def elapsed(started: int, stopped: int) -> Decimal:
    """Seconds between two presses, which are given in milliseconds since 1970. Raises Refusal: `clock_gone`."""
    if stopped <= started:
        raise Refusal(Reason.CLOCK_GONE)
    return (Decimal(stopped - started) / 1000).normalize() + 0

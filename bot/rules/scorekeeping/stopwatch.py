"""The stopwatch: what is timed, and the time between its two presses."""

from decimal import Decimal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan_measures import Time


def check_time(measure: object) -> Time:
    """Only a time has a stopwatch; Refusal `no_measure`."""
    if not isinstance(measure, Time):
        raise Refusal(Reason.NO_MEASURE)
    return measure


def elapsed(started: int, stopped: int) -> Decimal:
    """Seconds between two presses, which are given in milliseconds since 1970. Raises Refusal: `clock_gone`."""
    if stopped <= started:
        raise Refusal(Reason.CLOCK_GONE)
    return (Decimal(stopped - started) / 1000).normalize() + 0

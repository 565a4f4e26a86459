"""The stopwatch: what is timed, from which press on, until which, and the time to plan in before them."""

from datetime import datetime, timedelta
from decimal import Decimal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.plan_measures import Time


def check_time(measure: object) -> Time:
    """Only a time has a stopwatch; Refusal `no_measure`."""
    if not isinstance(measure, Time):
        raise Refusal(TableReason.NO_MEASURE)
    return measure


def first_press(before: datetime | None, now: datetime) -> datetime:
    """From which press the clock, or the time to plan in, runs: pressed twice, it began at the first."""
    return now if before is None else before


def elapsed(started: int, stopped: int) -> Decimal:
    """Seconds between two presses, which are given in milliseconds since 1970. Raises Refusal: `clock_gone`."""
    if stopped <= started:
        raise Refusal(TableReason.CLOCK_GONE)
    return (Decimal(stopped - started) / 1000).normalize() + 0


def plans_first(measure: Time, planning: datetime | None) -> bool:
    """Whether the time to plan in comes next: the plan gives one, and it has not begun."""
    return measure.planning is not None and planning is None


def planning_ends(measure: Time, since: datetime) -> datetime:
    """When the time to plan in, which began then, is over."""
    return since + timedelta(seconds=float(measure.planning or 0))

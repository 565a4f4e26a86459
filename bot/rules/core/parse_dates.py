"""Dates and times of day as people type them; nothing is guessed."""

import re
from contextlib import suppress
from datetime import date, datetime, time

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan_limits import YEARS

_TIME = re.compile(r"(\d{1,2})[:.h](\d{2})(?: ?([ap])\.?m\.?)?", re.IGNORECASE)
NOON = 12


def read_date(text: str) -> date:
    """A date as year, month and day, in a year that a plan may have; no order of day and month is guessed.

    Raises Refusal: `typed_date` (typed).
    """
    with suppress(ValueError):
        found = date.fromisoformat(text.strip())
        if YEARS.least <= found.year <= YEARS.most:
            return found
    raise Refusal(Reason.TYPED_DATE, typed=text.strip())


def read_clock(text: str) -> time:
    """A time of day in 24 hours, as in 15:30, or in twelve with am or pm, as in 3:30 pm.

    Raises Refusal: `typed_clock` (typed).
    """
    found = _TIME.fullmatch(text.strip())
    if found and int(found[2]) < 60:
        hour, half = int(found[1]), (found[3] or "").lower()
        if half and 1 <= hour <= NOON:
            hour = hour % NOON + (NOON if half == "p" else 0)
            return time(hour, int(found[2]))
        if not half and hour < 24:
            return time(hour, int(found[2]))
    raise Refusal(Reason.TYPED_CLOCK, typed=text.strip())


def read_moment(text: str) -> datetime | None:
    """A date and a time of day as in 2027-01-11 15:30; None when nothing is typed.

    Raises Refusal: `typed_moment` (typed).
    """
    typed = text.strip()
    if not typed:
        return None
    day, _, clock = typed.replace("T", " ").partition(" ")
    try:
        return datetime.combine(read_date(day), read_clock(clock))
    except Refusal:
        raise Refusal(Reason.TYPED_MOMENT, typed=typed) from None

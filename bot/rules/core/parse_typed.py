"""Numbers, dates, times of day and lists as people type them with one thumb; what cannot be read is never guessed.

Numbers have a decimal comma or point, perhaps a unit behind, and blanks that are no zero. `what` is what was asked for:
a name from the plan, or one for which the words have a text.
"""

import re
from contextlib import suppress
from datetime import date, datetime, time
from decimal import Decimal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.plan_limits import YEARS

MOST_POINTS = Decimal(99_999)
_DECIMAL = re.compile(r"\d{1,6}(?:[.,]\d{1,3})?")
_AMOUNT = re.compile(r"[-\N{MINUS SIGN}]?\d{1,6}(?:[.,]\d{1,4})?")
_THOUSANDS = re.compile(r"[-\N{MINUS SIGN}]?[1-9]\d{0,2},\d{3}")
"""Read as thousands in one country, and as thousandths in another."""
_TIME = re.compile(r"(\d{1,2})[:.h](\d{2})(?: ?([ap])\.?m\.?)?", re.IGNORECASE)
NOON = 12


def read_count(text: str, what: object, most: int) -> int:
    """A whole number from 0 to `most`.

    Raises Refusal: `typed_blank`, `typed_whole` (what, typed), `typed_many` (what, typed, most).
    """
    typed = text.strip()
    if not typed:
        raise Refusal(TableReason.TYPED_BLANK, what=what)
    if not re.fullmatch(r"\d{1,9}", typed):
        raise Refusal(TableReason.TYPED_WHOLE, what=what, typed=typed)
    if int(typed) > most:
        raise Refusal(TableReason.TYPED_MANY, what=what, typed=typed, most=most)
    return int(typed)


def read_points(text: str, what: object) -> Decimal:
    """Points of at most three decimals, with a decimal point or comma; a leading minus of a deduction is taken as said.

    Raises Refusal: `typed_blank`, `typed_number` (what, typed), `typed_thousands` (what, typed, whole, part), or
    `typed_many` (what, typed, most).
    """
    typed = text.strip().removeprefix("-").strip()
    if not typed:
        raise Refusal(TableReason.TYPED_BLANK, what=what)
    _check_one_meaning(typed, what)
    if not _DECIMAL.fullmatch(typed):
        raise Refusal(TableReason.TYPED_NUMBER, what=what, typed=typed)
    points = Decimal(typed.replace(",", "."))
    if points > MOST_POINTS:
        raise Refusal(TableReason.TYPED_MANY, what=what, typed=typed, most=MOST_POINTS)
    return points


def read_amount(text: str, what: object, unit: str) -> Decimal:
    """A measured value, with a decimal point or comma, with or without its unit; it may lie below 0.

    Raises Refusal: `typed_blank`, `typed_number` (what, typed), `typed_thousands` (what, typed, whole, part).
    """
    typed = text.strip()
    if typed.casefold().endswith(unit.casefold()):
        typed = typed[: -len(unit)].strip()
    if not typed:
        raise Refusal(TableReason.TYPED_BLANK, what=what)
    _check_one_meaning(typed, what)
    if not _AMOUNT.fullmatch(typed):
        raise Refusal(TableReason.TYPED_NUMBER, what=what, typed=text.strip())
    return Decimal(typed.replace(",", ".").replace("\N{MINUS SIGN}", "-"))


def _check_one_meaning(typed: str, what: object) -> None:
    """`1,250` is a thousand and more to some and one and a quarter to others: neither is guessed."""
    if _THOUSANDS.fullmatch(typed):
        whole, part = typed.replace(",", ""), typed.replace(",", ".")
        raise Refusal(TableReason.TYPED_THOUSANDS, what=what, typed=typed, whole=whole, part=part)


def read_between(text: str, reason: AnyReason, least: int, most: int) -> int:
    """A whole number within bounds.

    Raises Refusal: `reason` (typed, least, most).
    """
    typed = text.strip()
    if typed.isdecimal() and len(typed) < 6 and least <= int(typed) <= most:
        return int(typed)
    raise Refusal(reason, typed=typed, least=least, most=most)


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


def read_list(text: str) -> tuple[str, ...]:
    """Names separated by commas, semicolons or line breaks."""
    return tuple(name for part in re.split(r"[,;\n]", text) if (name := " ".join(part.split())))

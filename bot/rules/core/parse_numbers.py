"""Numbers as people type them with one thumb: decimal comma or point, a unit behind, blanks that are no zero.

What cannot be read is refused, never guessed. `what` is what was asked for: a name from the plan, or one for which the
words have a text.
"""

import re
from decimal import Decimal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import AnyReason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason

MOST_POINTS = Decimal(99_999)
_DECIMAL = re.compile(r"\d{1,6}(?:[.,]\d{1,3})?")
_AMOUNT = re.compile(r"[-\N{MINUS SIGN}]?\d{1,6}(?:[.,]\d{1,4})?")
_THOUSANDS = re.compile(r"[-\N{MINUS SIGN}]?[1-9]\d{0,2},\d{3}")
"""Read as thousands in one country, and as thousandths in another."""


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

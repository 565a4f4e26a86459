"""Numbers as people type them with one thumb: decimal comma or point, minutes and seconds, blanks that are no zero.

What cannot be read is refused, never guessed.
"""

import re
from collections.abc import Sequence
from decimal import ROUND_CEILING, Decimal

from bot.rules.core.number_refusal_reasons import NumberReason
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason

MOST_POINTS = Decimal(99_999)
MOST_WATCHES = 3
FARTHEST_APART = 2
"""Watches are of one run only if the longest shows at most so many times the shortest (common practice, no source)."""
SLACK = Decimal(1)
"""Seconds by which watches of a very short run may differ all the same."""
TENTH = Decimal("0.1")
_DECIMAL = re.compile(r"\d{1,6}(?:[.,]\d{1,3})?")
_AMOUNT = re.compile(r"[-\N{MINUS SIGN}]?\d{1,6}(?:[.,]\d{1,4})?")
_THOUSANDS = re.compile(r"[-\N{MINUS SIGN}]?[1-9]\d{0,2},\d{3}")
"""Read as thousands in one country, and as thousandths in another."""
_MINUTES = re.compile(r"(\d{1,3})\s*[:'’m]\s*(\d{1,2}(?:[.,]\d{1,3})?)\s*(?:[\"”s]|sec)?")
_SECONDS = re.compile(r"(\d{1,6}(?:[.,]\d{1,3})?)\s*(?:s|sec|seconds)?")


def read_count(text: str, what: str, most: int) -> int:
    """A whole number from 0 to `most`.

    Raises Refusal: `typed_blank`, `typed_whole` (what, typed), `typed_many` (what, typed, most).
    """
    typed = text.strip()
    if not typed:
        raise Refusal(NumberReason.TYPED_BLANK, what=what)
    if not re.fullmatch(r"\d{1,9}", typed):
        raise Refusal(NumberReason.TYPED_WHOLE, what=what, typed=typed)
    if int(typed) > most:
        raise Refusal(NumberReason.TYPED_MANY, what=what, typed=typed, most=most)
    return int(typed)


def read_points(text: str, what: str) -> Decimal:
    """Points of at most three decimals, with a decimal point or comma; a leading minus of a deduction is taken as said.

    Raises Refusal: `typed_blank`, `typed_number` (what, typed), `typed_thousands` (what, typed, whole, part), or
    `typed_many` (what, typed, most).
    """
    typed = text.strip().removeprefix("-").strip()
    if not typed:
        raise Refusal(NumberReason.TYPED_BLANK, what=what)
    _check_one_meaning(typed, what)
    if not _DECIMAL.fullmatch(typed):
        raise Refusal(NumberReason.TYPED_NUMBER, what=what, typed=typed)
    points = Decimal(typed.replace(",", "."))
    if points > MOST_POINTS:
        raise Refusal(NumberReason.TYPED_MANY, what=what, typed=typed, most=MOST_POINTS)
    return points


def read_amount(text: str, what: str, unit: str) -> Decimal:
    """A measured value, with a decimal point or comma, with or without its unit; it may lie below 0.

    Raises Refusal: `typed_blank`, `typed_number` (what, typed), `typed_thousands` (what, typed, whole, part).
    """
    typed = text.strip()
    if typed.casefold().endswith(unit.casefold()):
        typed = typed[: -len(unit)].strip()
    if not typed:
        raise Refusal(NumberReason.TYPED_BLANK, what=what)
    _check_one_meaning(typed, what)
    if not _AMOUNT.fullmatch(typed):
        raise Refusal(NumberReason.TYPED_NUMBER, what=what, typed=text.strip())
    return Decimal(typed.replace(",", ".").replace("\N{MINUS SIGN}", "-"))


def _check_one_meaning(typed: str, what: str) -> None:
    """`1,250` is a thousand and more to some and one and a quarter to others: neither is guessed."""
    if _THOUSANDS.fullmatch(typed):
        whole, part = typed.replace(",", ""), typed.replace(",", ".")
        raise Refusal(NumberReason.TYPED_THOUSANDS, what=what, typed=typed, whole=whole, part=part)


def read_time(text: str) -> Decimal:
    """Seconds from `1:32.4`, `1:32,4`, `92.4` or `92,4 s`.

    Raises Refusal: `typed_blank`, `typed_time` (typed), `typed_sixty` (typed) when the seconds beside minutes are 60
    or more.
    """
    typed = text.strip().lower()
    if not typed:
        raise Refusal(NumberReason.TYPED_BLANK, what="the time")
    if minutes := _MINUTES.fullmatch(typed):
        seconds = Decimal(minutes[2].replace(",", "."))
        if seconds >= 60:
            raise Refusal(NumberReason.TYPED_SIXTY, typed=typed)
        return int(minutes[1]) * 60 + seconds
    if seconds_only := _SECONDS.fullmatch(typed):
        return Decimal(seconds_only[1].replace(",", "."))
    raise Refusal(NumberReason.TYPED_TIME, typed=typed)


def read_watches(text: str) -> Decimal:
    """Seconds from one watch, as typed, or from two or three watches parted by `/` or `;`, by the rule of the track.

    Watches that far apart are not of one run: perhaps a date was typed, such as 28/2/2027.

    Raises Refusal: `typed_watches` (typed, most) for more than three, `typed_watches_apart` (typed), or what
    `read_time` raises.
    """
    watches = [read_time(part) for part in re.split(r"[/;]", text)]
    if len(watches) > MOST_WATCHES:
        raise Refusal(NumberReason.TYPED_WATCHES, typed=text.strip(), most=MOST_WATCHES)
    if max(watches) > FARTHEST_APART * min(watches) + SLACK:
        raise Refusal(NumberReason.TYPED_WATCHES_APART, typed=text.strip())
    return watches[0] if len(watches) == 1 else official_time(watches)


def official_time(watches: Sequence[Decimal]) -> Decimal:
    """The hand time of one to three watches: each read up to the next tenth; of two the longer, of three the middle.

    World Athletics, technical rules on hand timing (`tests/rules/reference/F9.json`).
    """
    read = sorted(watch.quantize(TENTH, ROUND_CEILING) for watch in watches)
    return read[len(read) // 2]


def looks_like_minutes(seconds: Decimal) -> Decimal | None:
    """What was perhaps meant when `1.32` was typed for 1:32: the seconds in that reading, or None."""
    sign, _, exponent = seconds.as_tuple()
    if exponent != -2 or sign or seconds >= 60:
        return None
    minutes, rest = divmod(seconds, 1)
    meant = int(rest * 100)
    return minutes * 60 + meant if minutes > 0 and meant < 60 else None


def read_between(text: str, what: str, least: int, most: int) -> int:
    """A whole number within bounds.

    Raises Refusal: `typed_between` (what, typed, least, most).
    """
    typed = text.strip()
    if typed.isdecimal() and len(typed) < 6 and least <= int(typed) <= most:
        return int(typed)
    raise Refusal(Reason.TYPED_BETWEEN, what=what, typed=typed, least=least, most=most)

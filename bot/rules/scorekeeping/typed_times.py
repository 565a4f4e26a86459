"""Times as typed at the table: seconds or minutes and seconds, of one stopwatch, or of two or three of the same run.

What cannot be read is refused, never guessed.
"""

import re
from collections.abc import Sequence
from decimal import ROUND_CEILING, Decimal
from enum import Enum, auto

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason


class Asked(Enum):
    """What is asked for of an attempt, beside what the plan has a name for."""

    TIME = auto()
    FAULTS = auto()
    POINTS_OFF = auto()
    CONTRIBUTING = auto()


MOST_WATCHES = 3
FARTHEST_APART = 2
"""Watches are of one run only if the longest shows at most so many times the shortest (common practice, no source)."""
SLACK = Decimal(1)
"""Seconds by which watches of a very short run may differ all the same."""
TENTH = Decimal("0.1")
_MINUTES = re.compile(r"(\d{1,4})\s*[:'’m]\s*(\d{1,2}(?:[.,]\d{1,3})?)\s*(?:[\"”s]|sec)?")
_SECONDS = re.compile(r"(\d{1,6}(?:[.,]\d{1,3})?)\s*(?:s|sec|seconds)?")


def read_time(text: str) -> Decimal:
    """Seconds from `1:32.4`, `1:32,4`, `92.4` or `92,4 s`.

    Raises Refusal: `typed_blank`, `typed_time` (typed), `typed_sixty` (typed) when the seconds beside minutes are 60
    or more.
    """
    typed = text.strip().lower()
    if not typed:
        raise Refusal(TableReason.TYPED_BLANK, what=Asked.TIME)
    if minutes := _MINUTES.fullmatch(typed):
        seconds = Decimal(minutes[2].replace(",", "."))
        if seconds >= 60:
            raise Refusal(TableReason.TYPED_SIXTY, typed=typed)
        return int(minutes[1]) * 60 + seconds
    if seconds_only := _SECONDS.fullmatch(typed):
        return Decimal(seconds_only[1].replace(",", "."))
    raise Refusal(TableReason.TYPED_TIME, typed=typed)


def read_watches(text: str) -> Decimal:
    """Seconds from one watch, as typed, or from two or three watches parted by `/` or `;`, by the rule of the track.

    Watches that far apart are not of one run: perhaps a date was typed, such as 28/2/2027.

    Raises Refusal: `typed_watches` (typed, most) for more than three, `typed_watches_apart` (typed), or what
    `read_time` raises.
    """
    watches = [read_time(part) for part in re.split(r"[/;]", text)]
    if len(watches) > MOST_WATCHES:
        raise Refusal(TableReason.TYPED_WATCHES, typed=text.strip(), most=MOST_WATCHES)
    if max(watches) > FARTHEST_APART * min(watches) + SLACK:
        raise Refusal(TableReason.TYPED_WATCHES_APART, typed=text.strip())
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

"""Times as they are typed at the table: what the form says about it, and why what was typed will not do."""

from decimal import Decimal

from bot.rules.core.refusal_reasons import AnyReason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.words.core.number_text import clock

REFUSALS: dict[AnyReason, str] = {
    TableReason.TYPED_TIME: "I cannot read **{typed}** as a time. Type minutes and seconds like 1:32.4, or seconds "
    "like 92.4.",
    TableReason.TYPED_WATCHES: "**{typed}** holds more than {most} watches. Type {most} at most, as in 1:32.4 / "
    "1:32.6.",
    TableReason.TYPED_WATCHES_APART: "**{typed}** cannot be the time of one run: the watches are too far apart. Type "
    "minutes and seconds like 1:32.4, or several watches of the same run like 1:32.4 / 1:32.6.",
    TableReason.TYPED_SIXTY: "**{typed}** has 60 seconds or more beside the minutes. Type minutes and seconds like "
    "1:32.4.",
}


def time_hint(limit: Decimal) -> str:
    """What can be typed as a time, and how long a run may take."""
    return f"Such as 1:32.4 or 92.4; several watches: 1:32.4 / 1:32.6. The limit is {clock(limit)}."[:100]


def clock_typed(seconds: str) -> str:
    """A time as it would be typed again."""
    return clock(Decimal(seconds)).removesuffix(" s")

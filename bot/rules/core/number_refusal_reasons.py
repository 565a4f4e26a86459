"""Why a number that somebody typed is not read. As for all reasons, the text stands in words, under `REFUSALS`."""

from enum import auto

from bot.rules.core.refusal_reasons import AnyReason


class NumberReason(AnyReason):
    """Why a count, points, an amount or a time is refused."""

    TYPED_BLANK = auto()
    TYPED_WHOLE = auto()
    TYPED_NUMBER = auto()
    TYPED_THOUSANDS = auto()
    TYPED_MANY = auto()
    TYPED_TIME = auto()
    TYPED_WATCHES = auto()
    TYPED_WATCHES_APART = auto()
    TYPED_SIXTY = auto()

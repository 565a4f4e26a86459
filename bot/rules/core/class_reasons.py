"""Why the rules say no about time and about what befalls a squad. As for all reasons, the text stands in words."""

from enum import auto

from bot.rules.core.reasons import AnyReason


class ClassReason(AnyReason):
    """Why something about the class, its days or its squads is refused."""

    CLOSE_PAST = auto()
    CLOSE_ORDER = auto()
    CLOSE_LONG = auto()
    LOST_FIRST = auto()
    MORE_TIME_WHEN = auto()
    MORE_TIME_LATE = auto()
    MERGE_SAME = auto()
    MERGE_LATE = auto()

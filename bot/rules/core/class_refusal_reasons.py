"""Why the rules say no about time and about what befalls a squad. As for all reasons, the text stands in words."""

from enum import auto

from bot.rules.core.refusal_reasons import AnyReason


class ClassReason(AnyReason):
    """Why something about the class, its days or its squads is refused."""

    CLOSE_PAST = auto()
    CLOSE_ORDER = auto()
    CLOSE_LONG = auto()
    EARLIER_GONE = auto()
    GRACE_DAY = auto()
    JUDGES_FIXED = auto()
    LIST_NO_SECTION = auto()
    LOST_FIRST = auto()
    MORE_TIME_WHEN = auto()
    MORE_TIME_LATE = auto()
    MERGE_SAME = auto()
    MERGE_LATE = auto()
    PROTEST_CAPTAIN = auto()
    PROTEST_EARLY = auto()
    PROTEST_OVER = auto()
    PROTEST_MANY = auto()
    PROTEST_LENGTH = auto()
    PROTEST_GONE = auto()
    PROTEST_DECIDED = auto()
    PROTEST_NO_VERDICT = auto()
    PROTEST_SECOND = auto()
    NOBODY_FOUND = auto()
    PLACE_WAITS = auto()
    RESULT_STANDS = auto()
    STUDENT_THERE = auto()
    TEAM_EARLY = auto()
    TEAM_NOTHING = auto()
    INCIDENT_EMPTY = auto()
    INCIDENT_GONE = auto()
    CERTIFICATES_EARLY = auto()
    CERTIFICATES_NOBODY = auto()

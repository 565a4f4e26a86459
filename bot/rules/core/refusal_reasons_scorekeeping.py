"""Why the rules say no at the scorekeeper's table, typed numbers included. Texts stand in words."""

from enum import auto

from bot.rules.core.refusal_reasons import AnyReason


class TableReason(AnyReason):
    """Why an attempt, a count, points, an amount or a time is refused."""

    RUN_OFF_LATER = auto()
    TYPED_LINE_TIME = auto()
    TYPED_LINE_COUNT = auto()
    TYPED_LINE_CHECKLIST = auto()
    PLAN_MOVED = auto()
    ATTEMPT_ITEM = auto()
    ATTEMPT_COUNT = auto()
    ATTEMPT_DEDUCTIONS = auto()
    ATTEMPT_AMOUNT = auto()
    ATTEMPT_DECIMALS = auto()
    ATTEMPT_SECONDS = auto()
    ATTEMPT_FAULTS = auto()
    ATTEMPT_MEMBERS = auto()
    ATTEMPTS_USED = auto()
    ATTEMPT_TAKEN = auto()
    ATTEMPT_GONE = auto()
    SQUAD_ABSENT = auto()
    NO_TIE = auto()
    TABLE_NOT_YET = auto()
    TABLE_SURPRISE = auto()
    TABLE_CLOSED = auto()
    NO_MEASURE = auto()
    SQUAD_NOT_AT_TABLE = auto()
    ABSENCE_REASON = auto()
    ABSENCE_ATTEMPTS = auto()
    ONLY_COACH_EXCUSES = auto()
    CLOCK_GONE = auto()
    TABLE_SETTLED = auto()
    CORRECTION_EARLY = auto()
    TYPED_BLANK = auto()
    TYPED_WHOLE = auto()
    TYPED_NUMBER = auto()
    TYPED_THOUSANDS = auto()
    TYPED_MANY = auto()
    TYPED_TIME = auto()
    TYPED_WATCHES = auto()
    TYPED_WATCHES_APART = auto()
    TYPED_SIXTY = auto()

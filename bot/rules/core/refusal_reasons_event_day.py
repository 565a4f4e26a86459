"""Why the rules say no on the event day. Texts stand in words."""

from enum import auto

from bot.rules.core.refusal_reasons import AnyReason


class DayReason(AnyReason):
    """Why something about the event day is refused."""

    NO_SURPRISE = auto()
    SURPRISE_EARLY = auto()
    SURPRISE_OVER = auto()
    PRESENCE_FIRST = auto()
    PRESENT_TOO_FEW = auto()
    PAD_CLOSED = auto()
    PAD_NOTHING = auto()
    NO_EVENT_DAY = auto()
    DAY_NOT_YET = auto()
    DAY_OVER = auto()
    DAY_PUBLISHED = auto()
    DAY_DRAW_FIRST = auto()
    DAY_DRAWN = auto()
    DAY_NO_SQUADS = auto()
    DAY_CHANGED = auto()
    DAY_PANELS_FIRST = auto()
    DAY_LARGE = auto()
    NO_TIMETABLE = auto()
    NO_SLOT = auto()
    SLOT_OVER = auto()
    MISSED_TWICE = auto()
    NOT_ITS_TIME = auto()
    SWAP_KIND = auto()
    SWAP_CLASH = auto()
    LATER_MINUTES = auto()
    DAY_MOVED = auto()
    SAFETY_FIRST = auto()
    SAFETY_STOPPED = auto()
    STOP_REASON = auto()
    WAVE_NOBODY = auto()
    NOBODY_TO_TICK = auto()
    SHEET_TWO_PEOPLE = auto()
    SHEET_OLD = auto()

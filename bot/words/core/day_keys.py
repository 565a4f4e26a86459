"""What can be asked for on the event day: the draw, the timetable, the board, who is here, and the run pad.

As all keys these strings stand in messages on people's phones: none is changed or given a new meaning.
"""

from bot.words.core.action_keys import AnyKey


class DayKey(AnyKey):
    """The first part of a custom id that belongs to the event day."""

    DAY_ASK_TELL = "day.ask-tell"
    DAY_BOARD = "day.board"
    DAY_CALENDAR = "day.calendar"
    DAY_CLOSED = "day.closed"
    DAY_DRAWN = "day.drawn"
    DAY_HERE = "day.here"
    DAY_KEY = "day.key"
    DAY_LATER = "day.later"
    DAY_MAKE = "day.make"
    DAY_MISSED = "day.missed"
    DAY_MY_CALENDAR = "day.my-calendar"
    DAY_NOTED = "day.noted"
    DAY_PAGE = "day.page"
    DAY_PANEL = "day.panel"
    DAY_PLAN = "day.plan"
    DAY_PLANNED = "day.planned"
    DAY_PUBLISH = "day.publish"
    DAY_SLOT = "day.slot"
    DAY_SWAP = "day.swap"
    DAY_TABLE = "day.table"
    DAY_TELL = "day.tell"
    PAD_AGREED = "pad.agreed"
    PAD_ASK_RERUN = "pad.ask-rerun"
    PAD_FINISH = "pad.finish"
    PAD_LOOK = "pad.look"
    PAD_OPEN = "pad.open"
    PAD_RERUN = "pad.rerun"
    PAD_START = "pad.start"
    PAD_TAP = "pad.tap"
    PAD_UNDO = "pad.undo"
    SAFETY_ASK = "safety.ask"
    SAFETY_DONE = "safety.done"
    STOP_ASK = "stop.ask"
    STOP_DONE = "stop.done"
    STOP_LIFT = "stop.lift"
    WAVE_ASK = "wave.ask"
    WAVE_PICK = "wave.pick"
    WAVE_START = "wave.start"

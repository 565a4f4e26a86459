"""The live board of the event day: how many squads it shows at a table behind the one that is on."""

from bot.rules.event_day.call_up import CALLED
from bot.rules.event_day.running_day import Queue
from storage.records.day_timetable import DaySlot

SHOWN_NEXT = CALLED
"""So many squads stand behind the one that is on: those that are called."""


def shown_next(queue: Queue) -> tuple[DaySlot, ...]:
    """Who comes next at a table, behind whoever is on."""
    return queue.slots[1 : 1 + SHOWN_NEXT]

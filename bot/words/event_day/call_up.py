"""Calling squads to the table."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.event_day.running_day import RunningDay
from bot.words.core.mentions import called as called_by_name
from bot.words.core.mentions import to_ring
from bot.words.core.signs import Sign, posted
from bot.words.core.times import clock
from bot.words.event_day.slot_name import place, what
from storage.records.event_day import DaySlot
from storage.records.message import Message
from storage.records.people import Student
from storage.records.plan import Plan

PLACES = ("first", "second", "third")


@posted(Sign.DAY)
def called(
    plan: Plan, day: RunningDay, slot: DaySlot, before: int, now: datetime, members: Sequence[Student] = ()
) -> Message:
    """Told in a squad's room when it is nearly its turn; `before` squads are at the table before it."""
    if before == 0 and slot.begins_at <= now:
        turn, then = "**It is your turn now**", "Please come."
    else:
        place_in_line = PLACES[before] if before < len(PLACES) else f"number {before + 1}"
        turn = f"**You are {place_in_line} in line**"
        then = "Please get ready." if before else "Please be there in time, with everything you need."
    who = f" {called_by_name(members, True)}" if members else ""
    text = f"{turn}: {what(plan, day, slot)}{place(plan, slot)}. Planned for {clock(slot.begins_at)}. {then}{who}"
    return Message(text=text, ping=to_ring(members))

"""What squads and judges read of the timetable: their own times."""

from collections.abc import Mapping, Sequence

from bot.rules.event_day.running_day import RunningDay
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, signed
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full
from bot.words.event_day.slot_name import place, what
from storage.records.event_day import DaySlot
from storage.records.message import Button, Message
from storage.records.people import Squad
from storage.records.plan import Plan

CALENDAR = Button(key=key(DayKey.DAY_MY_CALENDAR), label="Calendar file")


def own_lines(plan: Plan, day: RunningDay, slots: Sequence[DaySlot]) -> list[str]:
    """The times of one squad, as its room shows them."""
    return [f"- {full(slot.begins_at)}: {what(plan, day, slot)}{place(plan, slot)}" for slot in slots]


def squad_times(plan: Plan, day: RunningDay, slots: Sequence[DaySlot]) -> Message:
    """The times of one squad in its room; edited in place when they move."""
    lines = "\n".join(own_lines(plan, day, slots)) or "Nothing is left for you to do."
    kinds = {slot.kind for slot in slots}
    notes = ["If a time moves, this message changes and you are told here."]
    notes += ["You are called here when it is nearly your turn to run."] if "run" in kinds else []
    notes += ["Nobody is called to an interview: please come at its time."] if "interview" in kinds else []
    surprise = any(event.surprise for event in plan.events)
    notes += ["The surprise is not in this list: it comes to this room when it starts."] if surprise else []
    text = f"{signed(Sign.DAY, '**Your times on the event day**')}\n{lines}\n-# {' '.join(notes)}"
    return whole_message(text, ((CALENDAR,),))


def judge_times(plan: Plan, day: RunningDay, slots: Sequence[DaySlot], squads: Mapping[int, Squad]) -> Message:
    """The interviews of one judge, in the judge's messages; edited in place when they move."""
    lines = [
        f"- {full(slot.begins_at)}: **{squads[slot.squad_id].number} {escape(squads[slot.squad_id].name)}**, "
        f"{what(plan, day, slot)}"
        for slot in slots
    ]
    text = signed(Sign.DAY, "**Your interviews on the event day**\n") + ("\n".join(lines) or "None.")
    return whole_message(f"{text}\n-# If a time moves, this message changes and you are told here.")

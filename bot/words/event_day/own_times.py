"""What squads and judges read of the timetable: their own times, and what has moved."""

from collections.abc import Mapping, Sequence
from zoneinfo import ZoneInfo

from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.event_day.running_day import RunningDay
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.pages import whole_message
from bot.words.core.plain_text import count, escape
from bot.words.core.signs import Sign, posted, signed
from bot.words.core.times import clock, full
from bot.words.event_day.slot_text import own_lines, place, what
from storage.records.event_day import DaySlot
from storage.records.message import Button, Message
from storage.records.people import Squad
from storage.records.plan import Plan

REFUSALS = {
    DayReason.NO_EVENT_DAY: "The plan has no event day yet. Press **Plan of the day** under **Event day**, or write "
    "`event_day` into the plan.",
    DayReason.DAY_NOT_YET: "The event day is arranged once the brief is out and the squads are fixed.",
    DayReason.DAY_OVER: "Judging is closed, so the timetable does not change any more.",
    DayReason.NO_TIMETABLE: "There is no timetable yet. Your coach will make it, and your room will show your times.",
    DayReason.DAY_MOVED: "Somebody has just moved something on this day, so nothing was moved now. Look at the "
    "**Timetable**, and try again if it is still needed.",
    DayReason.NO_SLOT: "That time is no longer in the timetable. Please open the timetable again.",
    DayReason.SLOT_OVER: "That is over already, so it does not move any more. Please open the timetable again.",
}
CALENDAR = Button(key=key(DayKey.DAY_MY_CALENDAR), label="Calendar file")


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


def moved(plan: Plan, day: RunningDay, slots: Sequence[DaySlot], before: Mapping[int, DaySlot]) -> Message:
    """Told to a squad whose times have changed, and to no other; each line says what it was `before`."""
    own = zip(slots, own_lines(plan, day, slots), strict=True)
    lines = "\n".join(line + _was(plan, slot, before.get(slot.id)) for slot, line in own) or "- nothing any more"
    return whole_message(signed(Sign.DAY, f"**Your times have changed.** Now:\n{lines}"))


def _was(plan: Plan, slot: DaySlot, old: DaySlot | None) -> str:
    if old is None:
        return " (**new**)"
    zone = ZoneInfo(plan.zone)
    if old.begins_at != slot.begins_at:
        same_day = old.begins_at.astimezone(zone).date() == slot.begins_at.astimezone(zone).date()
        return f" (**before: {clock(old.begins_at) if same_day else full(old.begins_at)}**)"
    return f" (**before:{place(plan, old)}**)" if place(plan, old) != place(plan, slot) else ""


def told(squads: int) -> str:
    """How many squads were told of a change."""
    return (
        f"Done. {count(squads, 'squad')} had other times than before and {'has' if squads == 1 else 'have'} been told."
    )


def judge_times(plan: Plan, day: RunningDay, slots: Sequence[DaySlot], squads: Mapping[int, Squad]) -> Message:
    """The interviews of one judge, in the judge's messages; edited in place when they move."""
    lines = [
        f"- {full(slot.begins_at)}: **{squads[slot.squad_id].number} {escape(squads[slot.squad_id].name)}**, "
        f"{what(plan, day, slot)}"
        for slot in slots
    ]
    text = signed(Sign.DAY, "**Your interviews on the event day**\n") + ("\n".join(lines) or "None.")
    return whole_message(f"{text}\n-# If a time moves, this message changes and you are told here.")


@posted(Sign.DAY)
def judge_moved() -> Message:
    """Told to a judge whose interviews have moved."""
    return Message(text="**The times of your interviews have changed.** The message with your interviews shows them.")


@posted(Sign.DAY)
def made_anew() -> Message:
    """Told in the office when the plan of the day changed under a timetable."""
    return Message(
        text="**The plan of the event day has changed**, and the timetable was made from the old one. "
        "Open **Event day** and press **Make it again**; only squads whose times change are told.",
        rows=((Button(key=key(DayKey.DAY_PANEL), label="Event day", style="main"),),),
    )

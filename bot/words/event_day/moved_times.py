"""What squads and judges read when their times on the event day have moved."""

from collections.abc import Mapping, Sequence
from zoneinfo import ZoneInfo

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import RunningDay
from bot.words.core.custom_ids import shown_stamp
from bot.words.core.number_text import count
from bot.words.core.signs import Sign, posted, signed
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import clock, full
from bot.words.event_day.own_times import own_lines
from bot.words.event_day.slot_name import place
from storage.records.event_day import DaySlot
from storage.records.message import Message
from storage.records.plan import Plan

REFUSALS = {
    DayReason.DAY_MOVED: "Somebody has just moved something on this day, so nothing was moved now. Look at the "
    "**Timetable**, and try again if it is still needed.",
    DayReason.NO_SLOT: "That time is no longer in the timetable. Please open the timetable again.",
    DayReason.SLOT_OVER: "That is over already, so it does not move any more. Please open the timetable again.",
}


def timetable_stamp(day: RunningDay) -> str:
    """What forms and lists carry of the timetable: what somebody else has moved since is not moved once more."""
    return shown_stamp([(slot.id, slot.begins_at, slot.table_number) for slot in day.slots])


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


def told(squads: int, timetable_told: bool) -> str:
    """How many squads have other times after a change, and whether they know."""
    if not timetable_told:
        has = "has other times now, and reads" if squads == 1 else "have other times now, and read"
        return f"Done. {count(squads, 'squad')} {has} them once you tell the squads."
    return (
        f"Done. {count(squads, 'squad')} had other times than before and {'has' if squads == 1 else 'have'} been told."
    )


@posted(Sign.DAY)
def judge_moved() -> Message:
    """Told to a judge whose interviews have moved."""
    return Message(text="**The times of your interviews have changed.** The message with your interviews shows them.")

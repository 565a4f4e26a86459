"""Swapping: two squads get each other's time on the event day."""

from collections.abc import Mapping, Sequence
from functools import partial
from zoneinfo import ZoneInfo

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import RunningDay
from bot.words.core.choices import LABEL, choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import cut, escape
from bot.words.core.times import full
from bot.words.event_day.event_day_overview import PANEL
from bot.words.event_day.moved_times import timetable_stamp
from bot.words.event_day.slot_name import event_of, place, what, which
from storage.records.event_day import DaySlot
from storage.records.message import Message
from storage.records.people import Squad
from storage.records.plan import Plan

REFUSALS = {
    DayReason.SWAP_KIND: "A run can swap with a run, and an interview with an interview. Pick another one.",
    DayReason.SWAP_CLASH: "With that swap somebody would be in two places at once. Pick another one.",
}


def one_slot(
    plan: Plan, day: RunningDay, slot: DaySlot, squads: Mapping[int, Squad], others: Sequence[DaySlot], page: int
) -> Message:
    """One run or interview, and with which it could swap."""
    squad = squads[slot.squad_id]
    text = (
        f"**{squad.number} {escape(squad.name)}**: {what(plan, day, slot)}{place(plan, slot)}, "
        f"{full(slot.begins_at)}.\n"
        "Pick another one to swap times with. The two squads are told of it."
    )
    choices = [choice(one.id, slot_label(plan, day, one, squads)) for one in others]
    turn = partial(key, DayKey.DAY_SLOT, slot.id)
    listed = list_page(choices, page, "Swap with", key(DayKey.DAY_SWAP, slot.id, timetable_stamp(day)), turn)
    return Message(text=text + listed.line, rows=(*listed.rows, (PANEL,)))


def slot_label(plan: Plan, day: RunningDay, slot: DaySlot, squads: Mapping[int, Squad]) -> str:
    """A slot in a list to pick from: local time, squad, what."""
    local = slot.begins_at.astimezone(ZoneInfo(plan.zone))
    squad = squads[slot.squad_id]
    event = event_of(plan, slot)
    name = event.name if event else slot.event
    return cut(f"{local:%H:%M} {squad.number} {squad.name}: {name}, {which(day, slot)}", LABEL)

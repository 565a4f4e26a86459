"""One run or interview in words, and the lines of a timetable."""

from collections.abc import Mapping, Sequence
from datetime import date
from zoneinfo import ZoneInfo

from bot.rules.event_day.running_day import RunningDay
from bot.words.core.custom_ids import shown_stamp
from bot.words.core.plain_text import cut, escape
from bot.words.core.times import clock, day_text, full
from storage.records.day_timetable import DaySlot
from storage.records.people import Squad
from storage.records.plan import Event, Plan


def event_of(plan: Plan, slot: DaySlot) -> Event | None:
    """The event of a slot; None where the plan has it no more."""
    return next((event for event in plan.events if event.key == slot.event), None)


def what(plan: Plan, day: RunningDay, slot: DaySlot) -> str:
    """`Sock run, run 1` or `Bunting, interview`."""
    event = event_of(plan, slot)
    name = escape(event.name) if event else slot.event
    if slot.kind == "interview":
        return f"{name}, interview"
    several = sum(one.kind == "run" and (one.squad_id, one.event) == (slot.squad_id, slot.event) for one in day.slots)
    return f"{name}, run {day.ranks.get(slot.id, slot.number)}" if several > 1 else name


def place(plan: Plan, slot: DaySlot) -> str:
    """`at table 2` where there are several tables."""
    several = plan.event_day is not None and plan.event_day.tables > 1
    return f" at table {slot.table_number}" if several and slot.table_number is not None else ""


def timetable_stamp(day: RunningDay) -> str:
    """What forms and lists carry of the timetable: what somebody else has moved since is not moved once more."""
    return shown_stamp([(slot.id, slot.begins_at, slot.table_number) for slot in day.slots])


def own_lines(plan: Plan, day: RunningDay, slots: Sequence[DaySlot]) -> list[str]:
    """The times of one squad, as its room shows them."""
    return [f"- {full(slot.begins_at)}: {what(plan, day, slot)}{place(plan, slot)}" for slot in slots]


def day_lines(
    plan: Plan, day: RunningDay, slots: Sequence[DaySlot], squads: Mapping[int, Squad], judges: Mapping[int, str]
) -> list[str]:
    """A part of the timetable, one line a slot below a line a day."""
    zone, lines, last = ZoneInfo(plan.zone), [], None
    for slot in slots:
        on: date = slot.begins_at.astimezone(zone).date()
        if on != last:
            lines.append(f"**{day_text(on)}**")
            last = on
        over = "~~" if day.is_over(slot) else ""
        who = f" ({', '.join(escape(judges[one]) for one in slot.judges if one in judges)})" if slot.judges else ""
        lines.append(
            f"{over}{clock(slot.begins_at)} {squads[slot.squad_id].number} {escape(squads[slot.squad_id].name)}: "
            f"{what(plan, day, slot)}{place(plan, slot)}{who}{over}"
        )
    return lines


def slot_label(plan: Plan, day: RunningDay, slot: DaySlot, squads: Mapping[int, Squad]) -> str:
    """A slot in a list to pick from: local time, squad, what."""
    local = slot.begins_at.astimezone(ZoneInfo(plan.zone))
    squad = squads[slot.squad_id]
    event = event_of(plan, slot)
    name = event.name if event else slot.event
    kind = "interview" if slot.kind == "interview" else f"run {day.ranks.get(slot.id, slot.number)}"
    return cut(f"{local:%H:%M} {squad.number} {squad.name}: {name}, {kind}", 100)

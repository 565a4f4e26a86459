"""What a run or an interview is called: its event, which run it is, and at which table."""

from bot.rules.event_day.running_day import RunningDay
from bot.words.core.plain_text import escape
from storage.records.event_day import DaySlot
from storage.records.plan import Event, Plan


def event_of(plan: Plan, slot: DaySlot) -> Event | None:
    """The event of a slot; None where the plan has it no more."""
    return next((event for event in plan.events if event.key == slot.event), None)


def which(day: RunningDay, slot: DaySlot) -> str:
    """`run 1` or `interview`."""
    return "interview" if slot.kind == "interview" else f"run {day.ranks.get(slot.id, slot.number)}"


def what(plan: Plan, day: RunningDay, slot: DaySlot) -> str:
    """`Sock run, run 1` or `Bunting, interview`."""
    event = event_of(plan, slot)
    name = escape(event.name) if event else slot.event
    several = sum(one.kind == "run" and (one.squad_id, one.event) == (slot.squad_id, slot.event) for one in day.slots)
    return f"{name}, {which(day, slot)}" if several > 1 or slot.kind == "interview" else name


def place(plan: Plan, slot: DaySlot) -> str:
    """`at table 2` where there are several tables."""
    several = plan.event_day is not None and plan.event_day.tables > 1
    return f" at table {slot.table_number}" if several and slot.table_number is not None else ""

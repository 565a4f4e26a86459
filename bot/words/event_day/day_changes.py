"""Moving what is still to come: so much later, or two with each other's time."""

from collections.abc import Mapping, Sequence
from functools import partial

from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.event_day.running_order import RunningDay
from bot.words.core.choices import choice, list_page
from bot.words.core.day_keys import DayKey
from bot.words.core.keys import key, shown_stamp
from bot.words.core.plain_text import count, escape
from bot.words.core.times import full
from bot.words.event_day.event_day_overview import PANEL
from bot.words.event_day.slot_text import place, slot_label, what
from storage.records.event_day import DaySlot
from storage.records.message import Form, Message, TextField
from storage.records.people import Squad
from storage.records.plan import Plan

REFUSALS = {
    DayReason.MISSED_TWICE: "That squad was not here before. Now the coach decides: a message about it stands in the "
    "office.",
    DayReason.SWAP_KIND: "A run can swap with a run, and an interview with an interview. Pick another one.",
    DayReason.SWAP_CLASH: "With that swap somebody would be in two places at once. Pick another one.",
    DayReason.DAY_MOVED: "Somebody has just moved something on this day, so nothing was moved now. Look at the "
    "**Timetable**, and try again if it is still needed.",
    DayReason.LATER_MINUTES: "**{typed}** will not do. Type whole minutes from 1 to {most}, such as 15.",
}


def stamp_of(day: RunningDay) -> str:
    """What forms and lists carry of the timetable: what somebody else has moved since is not moved once more."""
    return shown_stamp([(slot.id, slot.begins_at, slot.table_number) for slot in day.slots])


def later_form(day: RunningDay) -> Form:
    """By how much everything that is still to come moves."""
    field = TextField(
        key="minutes",
        label="How many minutes later?",
        hint="All runs and interviews still to come on the day move. Everyone concerned is told.",
        example="15",
        most=4,
    )
    return Form(key=key(DayKey.DAY_LATER, "typed", stamp_of(day)), title="Later", fields=(field,))


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
    listed = list_page(choices, page, "Swap with", key(DayKey.DAY_SWAP, slot.id, stamp_of(day)), turn)
    return Message(text=text + listed.line, rows=(*listed.rows, (PANEL,)))


def told(squads: int) -> str:
    """How many squads were told of a change."""
    return (
        f"Done. {count(squads, 'squad')} had other times than before and {'has' if squads == 1 else 'have'} been told."
    )

"""The timetable as the coach sees it: made, looked at page by page, and told."""

from collections.abc import Mapping, Sequence
from datetime import date
from zoneinfo import ZoneInfo

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import RunningDay
from bot.rules.event_day.swap_times import movable
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.number_text import count
from bot.words.core.pages import page_line, turning, within
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import clock, day_text
from bot.words.event_day.event_day_overview import PANEL
from bot.words.event_day.slot_name import place, what
from bot.words.event_day.swap_times import slot_label
from storage.records.event_day import DaySlot
from storage.records.message import Button, Message, Row, Select
from storage.records.people import Squad
from storage.records.plan import Plan

SLOTS_A_PAGE = 20
"""So many runs and interviews stand on a page of the timetable, and can be picked below it."""
REFUSALS = {
    DayReason.NO_TIMETABLE: "There is no timetable yet. Your coach will make it, and your room will show your times.",
    DayReason.DAY_PANELS_FIRST: "Who judges which squad in **{event}** is not settled yet. Share the judges out first: "
    "button **Judges**, then who sees whom. Or set the minutes of an interview to 0 in **Plan of the day**.",
    DayReason.DAY_LARGE: "There are more times at which these runs could begin than I can look through. Plan longer "
    "runs or shorter lessons in **Plan of the day**, or fewer attempts.",
    DayReason.DAY_CHANGED: "Something has changed while the timetable was made. Please make it once more.",
}


def page(plan: Plan, day: RunningDay, squads: Mapping[int, Squad], judges: Mapping[int, str], number: int) -> Message:
    """One page of the timetable; what stands on it can be picked."""
    of = max(1, -(-len(day.slots) // SLOTS_A_PAGE))
    number = within(number, of)
    part = day.slots[number * SLOTS_A_PAGE : (number + 1) * SLOTS_A_PAGE]
    lines = day_lines(plan, day, part, squads, judges)
    choices = tuple(choice(slot.id, slot_label(plan, day, slot, squads)) for slot in movable(day, part))
    rows: list[Row] = []
    if choices:
        rows.append(Select(key=key(DayKey.DAY_SLOT), prompt="Move one of them", choices=choices))
    turn = turning(DayKey.DAY_PAGE, number, of)
    rows += [turn] if turn else []
    rows.append((PANEL,))
    return whole_message(f"**The timetable**{page_line(number, of)}\n" + "\n".join(lines), rows)


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


def sure_to_tell(squads: int, judges: int) -> Message:
    """What happens when the timetable is told."""
    text = (
        f"**Tell the timetable?** {count(squads, 'squad')} get their times in their rooms, and "
        f"{count(judges, 'judge')} the interviews in their messages. Later changes are told only to those whose times "
        "change."
    )
    tell = Button(key=key(DayKey.DAY_TELL), label="Tell them", style="good")
    return Message(text=text, rows=((tell, Button(key=key(DayKey.DAY_PAGE, 0), label="Look at it first"), PANEL),))

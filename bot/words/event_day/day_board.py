"""The live board of the event day: who is on at each table, who is next, who was not there."""

from collections.abc import Mapping

from bot.rules.event_day import day_board as rules
from bot.rules.event_day.call_up import CALLED
from bot.rules.event_day.running_day import Queue, RunningDay, run_measures
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import TABLE
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, signed
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import clock, relative
from bot.words.event_day.slot_name import event_of, what
from storage.records.event_day import DaySlot
from storage.records.message import BUTTON_LABEL, Button, Message, Row
from storage.records.people import Squad
from storage.records.plan import Plan

SHOWN_NEXT = CALLED
"""So many squads stand behind the one that is on: those that are called."""
TABLES_WITH_BUTTONS = 4
"""So many tables have buttons below the board, the first ones."""


def board_lines(plan: Plan, day: RunningDay, squads: Mapping[int, Squad]) -> list[str]:
    """The board in lines: a table each, who was not there, and how many runs are done."""
    counted = rules.runs(day)
    if not counted:
        return []
    lines = [_table(plan, day, queue, squads) for queue in day.queues]
    if missed := rules.missed(day):
        lines.append(f"Not here before: {', '.join(_name(squads, squad) for squad in missed)}.")
    if skipped := rules.left_to_coach(day):
        lines.append(f"The coach decides: {', '.join(_name(squads, squad) for squad in skipped)}.")
    lines.append(f"{rules.done(day)} of {len(counted)} runs done.")
    return lines


def _table(plan: Plan, day: RunningDay, queue: Queue, squads: Mapping[int, Squad]) -> str:
    several = plan.event_day is not None and plan.event_day.tables > 1
    head = f"**Table {queue.table}**" if several else "**The table**"
    on = queue.on
    if on is None:
        return f"{head}: nobody is left."
    now = f"{_name(squads, on.squad_id)}, {what(plan, day, on)} ({clock(on.begins_at)}, {relative(on.begins_at)})"
    after = [f"{_name(squads, slot.squad_id)} {clock(slot.begins_at)}" for slot in queue.slots[1 : 1 + SHOWN_NEXT]]
    return f"{head}: **on** {now}" + (f"; **next** {', then '.join(after)}" if after else "; nobody after that")


def _name(squads: Mapping[int, Squad], squad: int) -> str:
    return f"{squads[squad].number} {escape(squads[squad].name)}"


def board(plan: Plan, day: RunningDay, squads: Mapping[int, Squad]) -> Message:
    """The board as it stands in the office, edited in place."""
    ways = Button(key=key(DayKey.DAY_TABLE), label="Who is next")
    return whole_message(
        signed(Sign.DAY, "**The event day now**\n") + "\n".join(board_lines(plan, day, squads)), ((ways,),)
    )


def table_board(plan: Plan, day: RunningDay, squads: Mapping[int, Squad], said: str = "") -> Message:
    """The board with buttons for whoever stands at a table."""
    turns = [queue.on for queue in day.queues[:TABLES_WITH_BUTTONS] if queue.on is not None]
    rows: list[Row] = [_ways(plan, slot, squads) for slot in turns]
    table = TABLE if turns else TABLE.model_copy(update={"style": "main"})
    rows.append((Button(key=key(DayKey.DAY_BOARD), label="Refresh"), table))
    text = "**Who is next**\n" + "\n".join(board_lines(plan, day, squads))
    return whole_message(f"{text}\n\n{said}" if said else text, rows)


def _ways(plan: Plan, slot: DaySlot, squads: Mapping[int, Squad]) -> tuple[Button, ...]:
    squad = squads[slot.squad_id]
    gone = Button(key=key(DayKey.DAY_ASK_MISSED, slot.id), label=f"Not here: {squad.number}", style="danger")
    event = event_of(plan, slot)
    measures = run_measures(event) if event else []
    if event is None or not measures:
        return (gone,)
    about = f"{event.key}.{measures[0].key}"
    label = cut(f"Open {squad.number} {squad.name}", BUTTON_LABEL)
    return (Button(key=key(ActionKey.TABLE_SQUAD, about, squad.id), label=label, style="main"), gone)

"""The stopwatch of two presses, and the safety lines before it."""

from datetime import datetime

from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.stopwatch import planning_ends, plans_first
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import TABLE, stop_button
from bot.words.core.custom_ids import key
from bot.words.core.number_text import clock, exact
from bot.words.core.plain_text import escape
from bot.words.core.times import exact_clock, relative
from bot.words.scorekeeping.attempts import attempt_name, number_code, where
from storage.records.message import Button, Message
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Time

REFUSALS = {
    TableReason.CLOCK_GONE: "That stopwatch is no longer running. Open the table and the squad again.",
}
LEAD_ON = {TableReason.CLOCK_GONE: ((TABLE,),)}
AGAIN = " It was running already, so this is that clock. To begin anew, cancel it first."


def ready(
    squad: Squad, event: Event, measure: Time, number: int, run_off: bool, planning: datetime | None = None
) -> Message:
    """The safety lines, to be confirmed before the clock starts; `planning` is when the time to plan in began."""
    about = (f"{event.key}.{measure.key}", squad.id, number_code(number, run_off))
    lines = "".join(f"\n- {escape(caution)}" for caution in event.cautions)
    safe = f"\nBefore the start, check:{lines}" if lines else ""
    label = "All safe: start the clock" if lines else "Start the clock"
    text = (
        f"{where(squad, event, measure)}, {attempt_name(measure, number, run_off)}{safe}\n{_plan(measure, planning)}"
        f"The limit is {clock(measure.limit)}. The clock runs from the moment you press, not from my answer."
    )
    first = plans_first(measure, planning)
    start = Button(key=key(ActionKey.TABLE_START, *about), label=label, style="plain" if first else "good")
    plan = Button(key=key(ActionKey.TABLE_PLANNING, *about), label="Start the planning time", style="good")
    back = Button(key=key(ActionKey.TABLE_SQUAD, about[0], squad.id), label="Back")
    return Message(text=text, rows=((plan, start, back) if first else (start, back),))


def _plan(measure: Time, since: datetime | None) -> str:
    if measure.planning is None:
        return ""
    if since is None:
        return f"Planning time comes first: {clock(measure.planning)}.\n"
    end = planning_ends(measure, since)
    return f"**Planning time** ends at {exact_clock(end)} ({relative(end)}).\n"


def running(  # noqa: PLR0913, PLR0917
    squad: Squad, event: Event, measure: Time, code: str, started: int, faults: int, at: datetime, again: bool = False
) -> Message:
    """The clock runs; `started` is the moment of the first press in milliseconds since 1970.

    `again`: start was pressed while it ran already.
    """
    about = (f"{event.key}.{measure.key}", squad.id, code, started)
    number, run_off = int(code.removeprefix("r")), code.startswith("r")
    text = (
        f"{where(squad, event, measure)}, {attempt_name(measure, number, run_off)}\n"
        f"The clock started {relative(at)}.{AGAIN if again else ''}\n"
        f"Faults: **{faults}** (each adds {exact(measure.fault_seconds)} s).\n"
        "-# If this message is lost, open the table and the squad again: the clock goes on."
    )
    return Message(
        text=text,
        rows=(
            (
                Button(key=key(ActionKey.TABLE_STOP, *about, faults), label="Stop the clock", style="main"),
                Button(key=key(ActionKey.TABLE_FAULT, *about, faults + 1), label="One fault more"),
                Button(
                    key=key(ActionKey.TABLE_FAULT, *about, faults - 1, "less"),
                    label="One fault less",
                    disabled=faults == 0,
                ),
            ),
            (
                Button(key=key(ActionKey.TABLE_UNFINISHED, *about, faults), label="Did not finish"),
                Button(key=key(ActionKey.TABLE_CANCEL, *about), label="Cancel the clock"),
                *((stop_button(event.key),) if event.cautions else ()),
            ),
        ),
    )


def cancelled(squad: Squad, about: str) -> Message:
    """The clock no longer runs; nothing was recorded."""
    return Message(
        text=f"The clock of **{squad.number} {escape(squad.name)}** is cancelled. Nothing was recorded.",
        rows=((Button(key=key(ActionKey.TABLE_SQUAD, about, squad.id), label="Back to the squad"),),),
    )

"""The run pad: one message to count a run in, with its clock, and the count that is read back aloud."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import stop_button
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.number_text import count, several
from bot.words.core.plain_text import cut, escape
from bot.words.core.times import exact_clock, relative, seconds_text
from bot.words.scorekeeping.attempt_value_text import value_text
from bot.words.scorekeeping.attempts import attempt_name, number_code, where
from bot.words.scorekeeping.doubtful_values import CHANGE, slip_note
from storage.records.message import Button, Message, Row
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Count, Item
from storage.records.run_pads_and_stopwatches import PadRun
from storage.records.scores import Attempt

REFUSALS = {
    DayReason.PAD_CLOSED: "That run is over: it was saved, or it is run again. Open the squad at the table to see what "
    "stands.",
    DayReason.PAD_NOTHING: "There is nothing of yours to undo on this pad. **-1** takes one off, whoever counted it.",
}

ButtonStyle = Literal["main", "plain", "good", "danger"]
SHORT = 14
"""Letters of an item's name on a button, where two items share a row."""


@dataclass(frozen=True)
class Pad:
    """One run at a run pad, with everything that is shown of it."""

    squad: Squad
    event: Event
    measure: Count
    run: PadRun
    totals: Mapping[str, int]
    ends: datetime | None = None
    """When the run's time is over."""
    after_end: int = 0
    """Taps that count and came after the end."""
    unseen: int = 0
    """Presses that were kept although the phone may have said that they failed."""
    counting: int = 0
    """How many people have tapped on it."""
    here: str = ""
    """Who is here, in words."""

    @property
    def head(self) -> str:
        """Whose run it is."""
        name = attempt_name(self.measure, self.run.number, self.run.run_off)
        return f"{where(self.squad, self.event, self.measure)}, {name}"


def back_to_pad(run_id: int) -> Button:
    """Back to the pad of a run."""
    return Button(key=key(DayKey.PAD_LOOK, run_id), label="Back to the pad")


def pad(shown: Pad, now: datetime, note: str = "") -> Message:
    """The pad: counts, clock, and a press for everything; it fits a phone without scrolling."""
    counts = "  ·  ".join(f"{escape(item.name)} **{shown.totals[item.key]}**" for item in shown.measure.items)
    lines = [shown.head, counts, _clock(shown, now), *([shown.here] if shown.here else [])]
    lines += [f"**{note}**"] if note else []
    lines += [f"-# {_unseen(shown)}"] if shown.unseen else []
    lines += [f"-# {shown.counting} people tap on this pad; it adds up."] if shown.counting > 1 else []
    return Message(text="\n".join(lines), rows=(*_items(shown), *_controls(shown)))


def _clock(shown: Pad, now: datetime) -> str:
    if shown.run.started_at is None:
        length = f" A run lasts {seconds_text(shown.measure.seconds)}." if shown.measure.seconds else ""
        return f"The clock has not been started.{length}"
    began = f"Started at {exact_clock(shown.run.started_at)}"
    if shown.ends is None:
        return f"{began} ({relative(shown.run.started_at)})."
    if now >= shown.ends:
        return f"{began}. **Time is up** since {exact_clock(shown.ends)}."
    return f"{began}. Ends at **{exact_clock(shown.ends)}**, {relative(shown.ends)}."


def _unseen(shown: Pad) -> str:
    came = (
        "1 press came through late and counts"
        if shown.unseen == 1
        else f"{shown.unseen} presses came through late and count"
    )
    return f"{came}, though your phone may have shown a failure. Check the number."


def _items(shown: Pad) -> list[Row]:
    """A row for each item; two items a row where there are more than two."""
    items = shown.measure.items
    if len(items) <= 2:
        return [tuple(_pair(shown.run, item, 33)) for item in items]
    pairs = [items[place : place + 2] for place in range(0, len(items), 2)]
    return [tuple(button for item in pair for button in _pair(shown.run, item, SHORT)) for pair in pairs]


def _pair(run: PadRun, item: Item, most: int) -> list[Button]:
    name = cut(item.name, most)
    more = key(DayKey.PAD_TAP, run.id, item.key, "more")
    # Until the clock runs, starting it is the one filled button.
    style: ButtonStyle = "plain" if run.started_at is None else "danger" if item.points < 0 else "good"
    return [
        Button(key=more, label=f"+1 {name}", style=style),
        Button(key=key(DayKey.PAD_TAP, run.id, item.key, "less"), label="-1"),
    ]


def _controls(shown: Pad) -> list[Row]:
    run = shown.run
    started = run.started_at is not None
    finish = Button(key=key(DayKey.PAD_FINISH, run.id), label="Finish", style="main" if started else "plain")
    start = () if started else (Button(key=key(DayKey.PAD_START, run.id), label="Start the clock", style="main"),)
    undo = Button(key=key(DayKey.PAD_UNDO, run.id), label="Undo my last")
    again = Button(key=key(DayKey.PAD_ASK_RERUN, run.id), label="Our fault: run again")
    look = Button(key=key(DayKey.PAD_LOOK, run.id), label="Refresh")
    stop = stop_button(shown.event.key)
    return [(*start, finish, undo), (again, look, *((stop,) if shown.event.cautions else ()))]


def finished(shown: Pad, attempt: Attempt, typed: tuple[str, ...]) -> Message:
    """The count read back, to be counted aloud with the squad before it is saved; a doubtful one is rather changed."""
    run = shown.run
    doubt = slip_note(shown.measure, attempt)
    lines = [shown.head, f"{value_text(shown.measure, attempt)}.{doubt}"]
    if run.started_at is None:
        lines.append("-# The clock of this run was not started.")
    if shown.after_end:
        lines.append(
            f"**{count(shown.after_end, 'tap')} came after the end** ({exact_clock(shown.ends or run.opened_at)})."
        )
    if shown.unseen:
        lines.append(f"**{_unseen(shown)}**")
    lines.append("Now count aloud together with the squad, before the table is cleared.")
    about = f"{shown.event.key}.{shown.measure.key}"
    change = key(ActionKey.TABLE_FORM, about, shown.squad.id, number_code(run.number, run.run_off), *typed)
    agreed = Button(
        key=key(DayKey.PAD_AGREED, run.id, typed[0]),
        label="Counted aloud, agreed: save",
        style="plain" if doubt else "good",
    )
    changing = Button(key=change, label=CHANGE, style="main" if doubt else "plain")
    back = back_to_pad(run.id)
    return Message(text="\n".join(lines), rows=((agreed,), (back, changing)))


def sure_to_rerun(shown: Pad) -> Message:
    """Ask once before a run is given again."""
    text = (
        f"{shown.head}\nWas the run interrupted by something of **ours** (table, power, a disturbance)? Then the squad "
        "runs again, and nothing of this run counts. It stays on record. A fault of the squad's own robot is no reason."
    )
    yes = Button(key=key(DayKey.PAD_RERUN, shown.run.id), label="Ours: run again", style="danger")
    return Message(text=text, rows=((yes, back_to_pad(shown.run.id)),))


RERUN = "Run again: nothing of the interrupted run counts."
STARTED_BEFORE = "The clock was running already; it goes on."
NONE_LEFT = "There is none to take off."


def most_note(item: Item) -> str:
    """More were counted than there are."""
    return f"There {'is' if item.most == 1 else 'are'} only {several(item.most or 0, escape(item.name))}."


MOVED = "The count has changed meanwhile. Look again."

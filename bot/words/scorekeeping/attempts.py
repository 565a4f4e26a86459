"""Attempts and run-offs at the table: the form, the value read back, what is said once it is saved, the way on."""

from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import all_squads_button
from bot.words.core.choices import LABEL
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.number_text import clock
from bot.words.core.plain_text import cut, escape
from bot.words.scorekeeping.attempt_entry import deductions_field
from bot.words.scorekeeping.attempt_value_text import lower_note, value_text
from bot.words.scorekeeping.doubtful_values import CHANGE
from storage.records.message import BUTTON_LABEL, FORM_LABEL, Button, Form, FormField, Message
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_defaults import OFFICIAL
from storage.records.plan_measures import Checklist, Count, Measure, Number, Share, Time
from storage.records.scores import Attempt

WHO_IS_NEXT = Button(key=key(DayKey.DAY_BOARD), label="Who is next")
"""The board, where there is a timetable."""
ALOUD = "-# Say it aloud; someone of the squad confirms it before you save."
REFUSALS = {
    TableReason.ATTEMPTS_USED: "**{squad}** has used all its attempts: {most}. To replace one, undo the last one "
    "first.",
    TableReason.ATTEMPT_TAKEN: "Attempt {number} of **{squad}** is on record already: {value}. Open the squad again to "
    "see it.",
    TableReason.RUN_OFF_LATER: "A run-off comes after judging is closed: before that nobody knows which squads are "
    "equal.",
    TableReason.NO_TIE: "**{squad}** is in no tie that a run-off could break. The standings name the ties.",
}


def next_button(about: str, squad: Squad) -> Button:
    """The squad that comes next at a measure."""
    return Button(
        key=key(ActionKey.TABLE_SQUAD, about, squad.id), label=cut(f"Next: {squad.number} {squad.name}", BUTTON_LABEL)
    )


def attempt_name(measure: Measure, number: int, run_off: bool) -> str:
    """`attempt 2 of 3`, `run-off 1`, or `hands` for a share."""
    if run_off:
        return f"run-off {number}"
    if isinstance(measure, Share):
        return "members who took part"
    most = measure.attempts if isinstance(measure, Count | Number | Checklist | Time) else 1
    return f"attempt {number} of {most}"


def where(squad: Squad, event: Event, measure: Measure) -> str:
    """The squad with its number, and what it is doing."""
    part = "" if measure.name == event.name else f", {escape(measure.name)}"
    return f"**{squad.number} {escape(squad.name)}**: {escape(event.name)}{part}"


def squad_label(squad: Squad) -> str:
    """The squad's number beside its name, for a list."""
    return cut(f"{squad.number} {squad.name}", LABEL)


def attempt_form(form_key: str, squad: Squad, name: str, fields: tuple[FormField, ...]) -> Form:
    """The form for one attempt, headed by the squad so that nobody types for the wrong one."""
    title = f"{squad.number} {squad.name}"
    return Form(key=form_key, title=cut(title, FORM_LABEL), fields=fields)


def deductions_form(form_key: str, squad: Squad, measure: Measure, deductions: str) -> Form:
    """Points off, where five kinds of items left no room for them."""
    return attempt_form(form_key, squad, "", (deductions_field(measure, deductions),))


def read_back(
    squad: Squad, event: Event, measure: Measure, attempt: Attempt, typed: tuple[str, ...], note: str = ""
) -> Message:
    """What was typed with its sum, before it is saved; where a `note` doubts it, changing is the filled button."""
    name = attempt_name(measure, attempt.number, attempt.run_off)
    value = f"{value_text(measure, attempt)}{lower_note(measure)}"
    asked = f"{value[:1].upper()}{value[1:]}. Right?{_both_times(measure, attempt)}{note}"
    text = f"{where(squad, event, measure)}, {name}\n{asked}\n{ALOUD}"
    about = (f"{event.key}.{measure.key}", squad.id, number_code(attempt.number, attempt.run_off), *typed)
    buttons = [
        Button(key=key(ActionKey.TABLE_SAVE, *about), label="Save", style="plain" if note else "main"),
        Button(key=key(ActionKey.TABLE_FORM, *about), label=CHANGE, style="main" if note else "plain"),
    ]
    if isinstance(measure, Count) and len(measure.items) == 5:
        buttons.append(Button(key=key(ActionKey.TABLE_OFF, *about), label=deductions_field(measure, "").label))
    if attempt.press_seconds is not None and attempt.hand_seconds is not None:
        other = "press" if attempt.seconds == attempt.hand_seconds else "hand"
        choose = key(ActionKey.TABLE_HAND, *about[: 3 + 3], other)
        buttons.append(Button(key=choose, label=f"The {other} time counts"))
    return Message(text=text, rows=(tuple(buttons),))


def _both_times(measure: Measure, attempt: Attempt) -> str:
    """The time of the presses and the one by hand, side by side, and which of them counts."""
    if not isinstance(measure, Time) or attempt.press_seconds is None:
        return ""
    if attempt.hand_seconds is None:
        return f"\n-# Taken by the two presses. A time by hand can stand beside it: **{CHANGE}**."
    counts = "hand" if attempt.seconds == attempt.hand_seconds else "press"
    says = f"the plan says the {measure.official or OFFICIAL} time counts"
    return (
        f"\nBy the presses {clock(attempt.press_seconds)}, by hand {clock(attempt.hand_seconds)}; {says}. "
        f"Now the **{counts} time** counts, and both are kept."
    )


def number_code(number: int, run_off: bool) -> str:
    """The number of an attempt inside a key: `2`, or `r1` for a run-off."""
    return f"r{number}" if run_off else str(number)


def attempts_saved(
    squad: Squad,
    event: Event,
    measure: Measure,
    attempt: Attempt,
    following: Squad | None,
    more: bool,
    by_time: bool = False,
) -> Message:
    """It is on record; the next squad, which may be the same one, is a press away: or the board, where none is left."""
    about = f"{event.key}.{measure.key}"
    name = attempt_name(measure, attempt.number, attempt.run_off)
    text = f"Saved. {where(squad, event, measure)}, {name}\n{value_text(measure, attempt)}"
    goes_on = more and following is not None and following.id == squad.id
    ways: list[Button] = []
    if following is not None and not goes_on:
        ways.append(next_button(about, following))
    elif following is None and by_time:
        ways.append(WHO_IS_NEXT)
    if more:
        again = f"Attempt {attempt.number + 1} of the same squad"
        ways.append(Button(key=key(ActionKey.TABLE_SQUAD, about, squad.id), label=again))
    squads = all_squads_button(about)
    undo = Button(key=key(ActionKey.TABLE_UNDO, attempt.id), label="Undo", style="danger")
    first, *others = (*ways, undo, squads) if ways else (squads, undo)
    return Message(text=text, rows=((first.model_copy(update={"style": "main"}), *others),))

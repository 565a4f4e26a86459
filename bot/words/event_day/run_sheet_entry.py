"""Run sheets on the screen: typing them in twice, and what is shown when the two entries differ."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.run_sheet_entry import AT_FIRST, HERE, PRESENCE, Turn, differing, forms
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import RUN_SHEETS, TABLE
from bot.words.core.choices import PAGE, choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import cut, escape
from bot.words.core.text_as_file import whole_message
from bot.words.scorekeeping.attempt_entry import deductions_field
from bot.words.scorekeeping.attempt_value_text import lower_note, value_text
from bot.words.scorekeeping.attempts import attempt_name, squad_label, where
from bot.words.scorekeeping.doubtful_values import slip_note
from bot.words.scorekeeping.score_table import Line, measure_choices, measure_label, measure_value
from storage.records.message import (
    BUTTON_LABEL,
    FORM_LABEL,
    Button,
    Form,
    FormField,
    Message,
    RadioField,
    SelectField,
    TextField,
)
from storage.records.people import Squad, Student
from storage.records.plan import Event
from storage.records.plan_measures import AtTable, Checklist, Count, Measure
from storage.records.scores import Attempt

REFUSALS = {
    DayReason.SHEET_TWO_PEOPLE: "You typed this in the first time. Somebody else types it in the second time, from the "
    "paper: a coach, a scorekeeper or a typist.",
    DayReason.SHEET_OLD: "Somebody else has typed this in meanwhile. Please open the sheet again from the list.",
}
LEAD_ON = dict.fromkeys(REFUSALS, ((RUN_SHEETS.model_copy(update={"style": "main"}),),))
SCORES = Button(key=key(ActionKey.PAPER_ENTER), label="Judges' sheets")
TWICE = "Each is typed in twice, by two people; it counts when both say the same."


@dataclass(frozen=True)
class Sheet:
    """One squad's run sheet at a measure."""

    squad: Squad
    event: Event
    measure: AtTable
    attempts: Sequence[Attempt]
    """What is on record."""
    members: Sequence[Student]

    @property
    def about(self) -> str:
        """The measure, as a key carries it."""
        return measure_value(self.event, self.measure)

    def part(self, number: int) -> str:
        """What a part of the sheet is called."""
        return "who was here" if number == PRESENCE else attempt_name(self.measure, number, False)

    def head(self, number: int) -> str:
        """The squad and the part."""
        return f"{where(self.squad, self.event, self.measure)}, {self.part(number)}"


def measures(found: Sequence[tuple[Event, Measure, int]], page: int, at_table: bool) -> Message:
    """Pick of what the sheets are; with how many squads are still missing. `at_table`: whoever asks came from there."""
    door = TABLE if at_table else SCORES
    if not found:
        return Message(text="Nothing is missing at the table, so there is no run sheet to type in.", rows=((door,),))
    notes = [f"{count(missing, 'squad')} missing" for _, _, missing in found]
    choices = measure_choices([(event, measure) for event, measure, _ in found], notes)
    pick, turn = key(DayKey.RUN_SHEET_MEASURE), partial(key, DayKey.RUN_SHEETS)
    listed = list_page(choices, page, "What is on the sheet?", pick, turn)
    return Message(
        text=f"**Run sheets from paper.** {TWICE}{listed.line}", rows=(*listed.select, (*listed.turns, door))
    )


def squads(event: Event, measure: Measure, lines: Sequence[tuple[Line, int, bool]], page: int) -> Message:
    """Pick the squad on the paper; the name beside the number keeps runs from going to the wrong one."""
    another = RUN_SHEETS.model_copy(update={"label": "Another measure"})
    name = escape(measure_label(event, measure))
    if not lines:
        return Message(text=f"**{name}**: every squad is on record.", rows=((another,),))
    choices = [
        choice(
            line.squad.id,
            squad_label(line.squad),
            f"{len(line.attempts)} of {allowed} on record{', typed in once' if once else ''}",
        )
        for line, allowed, once in lines
    ]
    about, prompt = measure_value(event, measure), "Which squad stands on the sheet?"
    pick = key(DayKey.RUN_SHEET_OPEN, about)
    listed = list_page(choices, page, prompt, pick, lambda turn: key(DayKey.RUN_SHEET_PAGE, turn, about))
    return Message(
        text=f"**{name}**, from paper. {TWICE}{listed.line}", rows=(*listed.select, (*listed.turns, another))
    )


def sheet(shown: Sheet, runs: Turn | None, presence: Turn | None) -> Message:
    """What is on record, and what whoever looks types in next."""
    lines = [where(shown.squad, shown.event, shown.measure)]
    lines += [
        f"- {shown.part(one.number).capitalize()}: {value_text(shown.measure, one)}" for one in shown.attempts
    ] or ["Nothing is on record yet."]
    buttons: list[Button] = []
    if runs is not None:
        buttons.append(_form(shown, runs, main=True))
    else:
        lines.append("There is no attempt for you to type in: somebody else types what you have typed in once.")
    if presence is not None:
        buttons.append(_form(shown, presence))
    return whole_message("\n".join(lines), (tuple(buttons), (_others(shown),)) if buttons else ((_others(shown),),))


def _form(shown: Sheet, turn: Turn, main: bool = False) -> Button:
    part = shown.part(turn.number)
    label = f"Settle {part}" if turn.differs else f"Type {part}{' again' if turn.entry == 2 else ''}"
    form = key(DayKey.RUN_SHEET_FORM, shown.about, shown.squad.id, turn.number)
    return Button(key=form, label=cut(label, BUTTON_LABEL), style="main" if main else "plain")


def _others(shown: Sheet, main: bool = False) -> Button:
    page = key(DayKey.RUN_SHEET_PAGE, 0, shown.about)
    return Button(key=page, label="Next run sheet", style="main" if main else "plain")


def here_fields(shown: Sheet) -> tuple[FormField, ...]:
    """The roster, with nobody ticked beforehand."""
    ticked = AT_FIRST.get(HERE, "").split()
    choices = tuple(choice(one.id, one.name, chosen=str(one.id) in ticked) for one in shown.members[:PAGE])
    if not choices:
        return ()
    hint = "As on the paper. Pick nobody if the squad was not there: it counts 0."
    label = cut(f"Who was here for {shown.event.name}?", FORM_LABEL)
    most = len(choices)
    return (SelectField(key=HERE, label=label, hint=hint, choices=choices, least=0, most=most, required=False),)


def blank(measure: AtTable, fields: Sequence[FormField], keys: Sequence[str]) -> tuple[FormField, ...]:
    """The fields of these keys, with nothing typed or chosen in them beforehand."""
    if isinstance(measure, Count):
        fields = [
            *fields,
            *([deductions_field(measure, "")] if "deductions" not in {one.key for one in fields} else []),
        ]
    return tuple(_emptied(one) for one in fields if one.key in keys)


def _emptied(field: FormField) -> FormField:
    if isinstance(field, TextField):
        hint = "Type 0 if there are none." if field.key == "deductions" else field.hint
        return field.model_copy(update={"value": AT_FIRST.get(field.key, ""), "hint": hint})
    if isinstance(field, RadioField | SelectField):
        chosen = AT_FIRST.get(field.key, "").split()
        choices = tuple(one.model_copy(update={"chosen": one.value in chosen}) for one in field.choices)
        return field.model_copy(update={"choices": choices})
    return field


def entry_form(shown: Sheet, turn: Turn, place: int, fields: Sequence[FormField], opening: int) -> Form:
    """One form of a part; headed by the squad, so that nobody types for the wrong one."""
    of = len(forms(shown.measure, turn.number))
    part = f" ({place + 1} of {of})" if of > 1 else ""
    word = "Again: " if turn.entry == 2 else ""
    return Form(
        key=key(DayKey.RUN_SHEET_TYPED, shown.about, shown.squad.id, turn.number, turn.entry, place, opening),
        title=cut(f"{word}{shown.squad.number} {shown.squad.name}", FORM_LABEL - len(part)) + part,
        fields=tuple(fields),
    )


def settle_form(shown: Sheet, number: int, fields: Sequence[FormField], opening: int) -> Form:
    """Only what differed, from the paper."""
    return Form(
        key=key(DayKey.RUN_SHEET_SETTLED, shown.about, shown.squad.id, number, opening),
        title=cut(f"As on the paper: {shown.squad.number} {shown.squad.name}", FORM_LABEL),
        fields=tuple(fields),
    )


def attempt_text(measure: AtTable, attempt: Attempt) -> str:
    """What was read, and a question where it looks like a slip."""
    return f"{value_text(measure, attempt)}{lower_note(measure)}.{slip_note(measure, attempt)}"


def here_text(shown: Sheet, here: str) -> str:
    """How many were here."""
    chosen = here.split()
    if not chosen:
        return "Nobody was here: the squad counts as absent from this event."
    return f"{len(chosen)} of {count(len(shown.members), 'member')} here."


def go_on(shown: Sheet, number: int) -> Message:
    """One form is typed in; the next one follows."""
    form = key(DayKey.RUN_SHEET_FORM, shown.about, shown.squad.id, number)
    rows = ((Button(key=form, label="Go on typing", style="main"),),)
    return Message(text=f"Kept. Still to type: the points off. {shown.head(number)}", rows=rows)


def once(shown: Sheet, number: int, said: str) -> Message:
    """The first entry is whole; it waits for the second, by somebody else."""
    text = f"Typed in once. {shown.head(number)}\n{said}\nIt counts when somebody else has typed it in, too."
    return Message(text=text, rows=(_on(shown, number),))


def _on(shown: Sheet, number: int) -> tuple[Button, ...]:
    """The same sheet goes on, where it has more on it; else the next sheet."""
    more = number < getattr(shown.measure, "attempts", 1)
    opened = key(DayKey.RUN_SHEET_OPEN, shown.about, shown.squad.id)
    if not more:
        return (_others(shown, main=True), Button(key=opened, label="The same sheet"))
    form = key(DayKey.RUN_SHEET_FORM, shown.about, shown.squad.id, number + 1)
    label = cut(f"Type {shown.part(number + 1)}", BUTTON_LABEL)
    return (Button(key=form, label=label, style="main"), _others(shown))


def differ(shown: Sheet, number: int, first: Mapping[str, str], second: Mapping[str, str]) -> Message:
    """The two entries differ; nothing is saved before the paper was looked at again."""
    lines = [f"**The two entries differ.** {shown.head(number)}", "Nothing is saved yet. Look at the paper again:"]
    for field in differing(first, second):
        one, other = _said(shown, field, first[field]), _said(shown, field, second[field])
        if one != other:
            lines.append(f"- {_label(shown, field)}: first {one}, then {other}")
    about = (shown.about, shown.squad.id, number)
    settle = Button(key=key(DayKey.RUN_SHEET_SETTLE, *about), label="Settle it", style="main")
    return whole_message(
        "\n".join(lines),
        ((settle, Button(key=key(DayKey.RUN_SHEET_AGAIN, *about), label="Type both again"), _others(shown)),),
    )


def _label(shown: Sheet, field: str) -> str:
    if isinstance(shown.measure, Count):
        items = {f"item-{item.key}": escape(item.name) for item in shown.measure.items}
        if field in items:
            return items[field]
    known = {
        HERE: "Who was here",
        "deductions": "Points off",
        "ticked": "Ticked",
        "time": "Time",
        "faults": "Faults",
        "finished": "Finished",
        "contributing": "Members who took part",
    }
    return known.get(field, escape(shown.measure.name))


def _said(shown: Sheet, field: str, value: str) -> str:
    """What stands in a field, in words."""
    chosen = value.split()
    if field == HERE:
        return listing([escape(one.name) for one in shown.members if str(one.id) in chosen]) or "nobody"
    if field == "ticked" and isinstance(shown.measure, Checklist):
        return listing([escape(line.name) for line in shown.measure.lines if line.key in chosen]) or "nothing"
    if field == "time":
        return f"{value} s" if value else "none"
    return escape(value)


def saved(shown: Sheet, number: int, said: str, runs: Turn | None, settled: bool) -> Message:
    """Both entries agree, or the difference was settled: it is on record."""
    why = "Settled from the paper" if settled else "Both entries agree"
    text = f"{why}: it is on record. {shown.head(number)}\n{said}"
    if runs is None:
        return Message(text=text, rows=((_others(shown, main=True),),))
    return Message(text=text, rows=((_form(shown, runs, main=True), _others(shown)),))


def started_over(shown: Sheet, number: int) -> Message:
    """Both entries are thrown away."""
    form = key(DayKey.RUN_SHEET_FORM, shown.about, shown.squad.id, number)
    begin = Button(key=form, label="Type it in", style="main")
    return Message(text=f"Both entries are thrown away. {shown.head(number)}", rows=((begin, _others(shown)),))

"""A squad that does not take part in an event: the form, and what is noted."""

from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.absences import LONGEST_REASON, state_of
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import all_squads_button
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import cut, escape
from bot.words.core.who_reads import who_reads
from storage.records.message import FORM_LABEL, Button, Form, Message, RadioField, TextField
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.scores import Absence

REFUSALS = {
    TableReason.SQUAD_ABSENT: "**{squad}** is noted as not taking part here. Press **Absence** to change that first.",
    TableReason.ABSENCE_REASON: f"Please type a reason. A squad is excused only with one. {who_reads('absence', 'it')}",
    TableReason.ABSENCE_ATTEMPTS: "**{squad}** has an attempt on record here. Undo it first if the squad did not take "
    "part.",
    TableReason.ONLY_COACH_EXCUSES: "Only a coach can excuse a squad. You can note it as absent; a coach can change "
    "that.",
}


def absence_form(event: Event, squad: Squad, measure: str, absence: Absence | None, excuses: bool) -> Form:
    """Did the squad take part? Only a coach is offered to excuse it."""
    state = state_of(absence)
    choices = [
        choice("here", "It takes part", chosen=state == "here"),
        choice("absent", "Absent", "Counts 0 in this event.", chosen=state == "absent"),
    ]
    if excuses:
        note = "This event is left out of the squad's mean. Needs a reason."
        choices.append(choice("excused", "Excused", note, chosen=state == "excused"))
    title = f"{squad.number} {squad.name}"
    return Form(
        key=key(ActionKey.TABLE_ABSENT, measure, squad.id),
        title=cut(title, FORM_LABEL),
        fields=(
            RadioField(
                key="state", label=cut(f"Does it take part in {event.name}?", FORM_LABEL), choices=tuple(choices)
            ),
            TextField(
                key="reason",
                label="Reason",
                hint=f"{who_reads('absence', 'it')} No health details, please.",
                value=absence.reason if absence else "",
                most=LONGEST_REASON,
                long=True,
                required=False,
            ),
        ),
    )


def absence_noted(event: Event, squad: Squad, absence: Absence | None, about: str) -> Message:
    """What is noted now."""
    name = f"**{squad.number} {escape(squad.name)}**"
    if absence is None:
        text = f"{name} takes part in {escape(event.name)}."
    elif absence.excused:
        text = f"{name} is excused from {escape(event.name)}: this event is left out of its mean."
    else:
        text = f"{name} is noted as absent from {escape(event.name)}: it counts 0 there."
    back = Button(key=key(ActionKey.TABLE_SQUAD, about, squad.id), label="Back to the squad")
    return Message(text=text, rows=((back, all_squads_button(about)),))

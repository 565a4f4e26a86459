"""After the close of judging: how something on record at the table is corrected, who agrees, and what is told."""

from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import TABLE
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import cut, escape
from bot.words.core.times import clock
from bot.words.core.typed_reason import REASON
from storage.records.message import FORM_LABEL, Button, Form, Message, Row
from storage.records.people import Squad
from storage.records.plan import Event

REFUSALS = {
    TableReason.TABLE_SETTLED: "Judging is closed and totals can be seen, so what is on record of **{squad}** is not "
    "changed by one person at once. Press **Correct** and say why: once a coach has agreed, it can be changed. It is "
    "listed with the result.",
    TableReason.CORRECTION_EARLY: "Judging is not closed: everything at the table can be undone and entered again.",
}


def correct_button(about: str, squad_id: int) -> Button:
    """Asks for what a squad has in an event to be corrected."""
    return Button(key=key(ActionKey.TABLE_CORRECT, about, squad_id), label="Correct")


def _correct(refusal: Refusal) -> tuple[Row, ...]:
    return ((correct_button(str(refusal.fields["about"]), int(str(refusal.fields["number"]))), TABLE),)


LEAD_ON = {TableReason.TABLE_SETTLED: _correct}


def why_form(squad: Squad, about: str) -> Form:
    """Why something on record is to be corrected."""
    asked = key(ActionKey.TABLE_CORRECT_ASKED, about, squad.id)
    return Form(key=asked, title=cut(f"Correct: {squad.number} {squad.name}", FORM_LABEL), fields=(REASON,))


def asked(change_id: int, about: str, squad: Squad, event: Event, alone_from: datetime | None) -> Message:
    """Whoever asked reads what is needed now; `alone_from` for a coach, who can agree alone after a wait."""
    text = f"What **{escape(squad.name)}** has in **{escape(event.name)}** is to be corrected. "
    if alone_from is None:
        text += "A coach has to agree first; the office has the question. Look here again then: it can be undone."
        look = Button(key=key(ActionKey.TABLE_SQUAD, about, squad.id), label="Look again", style="main")
        return Message(text=text, rows=((look, TABLE),))
    text += "The office has the question: another coach can agree at once. If there is none, press the button from "
    return Message(text=f"{text}{clock(alone_from)} on.", rows=((_agree(change_id, about), TABLE),))


def asked_in_office(
    change_id: int, about: str, squad: Squad, event: Event, reason: str, alone_from: datetime
) -> Message:
    """Told in the office: what is to be corrected, and why."""
    return Message(
        text=f"What **{escape(squad.name)}** has in **{escape(event.name)}** is to be corrected. **Another person has "
        f"to agree**, because totals could be seen since judging was closed. If a coach has asked, that coach can do "
        f"so alone from {clock(alone_from)} on.\nThe reason, which is listed with the result: {escape(reason)}",
        rows=((_agree(change_id, about),),),
    )


def _agree(change_id: int, about: str) -> Button:
    return Button(
        key=key(ActionKey.TABLE_CORRECT_AGREED, change_id, about), label="Agree: it may be corrected", style="danger"
    )


def opened_in_office(squad: Squad, event: Event) -> Message:
    """Told in the office: from now on it can be changed at the table."""
    return Message(
        text=f"What **{escape(squad.name)}** has in **{escape(event.name)}** can be corrected at the table until the "
        "result is announced."
    )

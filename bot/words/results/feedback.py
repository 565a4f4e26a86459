"""Feedback for squads: read by the coach, edited, sent one by one or, once every draft was read, all at once."""

from collections.abc import Mapping, Sequence
from functools import partial

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.feedback import LONGEST, in_order, is_sent
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, STANDINGS
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.number_text import count
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import cut
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.results.feedback_draft import shown
from bot.words.scorekeeping.attempts import squad_label
from bot.words.scoring.result_view import ResultView
from storage.records.message import FORM_LABEL, MESSAGE_LENGTH, Button, Form, Message, TextField
from storage.records.people import Squad
from storage.records.results import Feedback

FEEDBACK = Button(key=key(ActionKey.FEEDBACK_PANEL), label="Feedback for squads")
ALL_SQUADS = FEEDBACK.model_copy(update={"label": "All squads"})
REFUSALS = {
    ResultReason.FEEDBACK_SENT: "**{squad}** has this feedback already. Edit it first if you want to send it once "
    "more.",
    ResultReason.FEEDBACK_SHORT: "Please write a little more, so that the squad has something to hold on to.",
}


def feedback_panel(result: ResultView, kept: Mapping[int, Feedback], comments: Mapping[int, int], page: int) -> Message:
    """Every squad, whether its feedback is drafted, edited or sent, and how many `comments` judges wrote about it."""
    rows = result.standings.rows
    sent = sum(one.sent_at is not None for one in kept.values())
    choices = [
        choice(
            row.squad_id,
            squad_label(result.squads[row.squad_id]),
            _state(kept.get(row.squad_id)) + _written(comments.get(row.squad_id, 0)),
        )
        for row in in_order(rows)
    ]
    turn = partial(key, ActionKey.FEEDBACK_PAGE)
    listed = list_page(choices, page, "Read the feedback of …", key(ActionKey.FEEDBACK_SQUAD), turn)
    text = (
        f"**Feedback for the squads**: {sent} of {len(rows)} sent.\n"
        "I draft each from the squad's own marks: what went well and one next step, with no judge's name and no other "
        "squad. Read it, change what you like, tick which comments of judges go with it, then send it."
        f"{listed.line}"
    )
    everyone = Button(key=key(ActionKey.FEEDBACK_ALL, 0), label="Read and send all", disabled=sent == len(rows))
    return Message(text=text, rows=(*listed.rows, (everyone, STANDINGS)))


def _state(one: Feedback | None) -> str:
    if one is None:
        return "draft"
    return "sent" if one.sent_at else "edited, not sent"


def _written(number: int) -> str:
    return f"; judges wrote {count(number, 'comment')}" if number else ""


def stamp_of(text: str) -> str:
    """What the button to send carries of the text above it, so that no other one is sent."""
    return shown_stamp(text)


def read(squad: Squad, text: str, one: Feedback | None, comments: int, changed: bool = False) -> Message:
    """One squad's feedback as it would be sent, with the way to the judges' comments.

    `changed`: somebody pressed to send another text than this.
    """
    sent = is_sent(one)
    head = "Sent:" if sent else "This would be sent to the squad's room:"
    if changed:
        head = f"It has changed since you read it, so nothing was sent. {head}"
    row = (
        Button(key=key(ActionKey.FEEDBACK_SEND, squad.id, stamp_of(text)), label="Send", style="main", disabled=sent),
        Button(key=key(ActionKey.FEEDBACK_EDIT, squad.id), label="Edit"),
        Button(
            key=key(ActionKey.FEEDBACK_COMMENTS, 0, squad.id),
            label=f"Judges' comments ({comments})",
            disabled=not comments,
        ),
        ALL_SQUADS,
    )
    return whole_message(f"-# {head}\n{shown(text)}", (row,))


def feedback_form(squad: Squad, text: str) -> Form:
    """The coach's own words."""
    title = f"Feedback for {squad.name}"
    field = TextField(
        key="text",
        label="Feedback",
        hint="About their work only: no judge's name, no other squad.",
        value=cut(text, LONGEST),
        long=True,
        least=1,
        most=LONGEST,
    )
    return Form(
        key=key(ActionKey.FEEDBACK_EDITED, squad.id),
        title=cut(title, FORM_LABEL),
        fields=(field,),
    )


@posted(Sign.FEEDBACK)
def letter(text: str) -> Message:
    """What the squad reads in its room."""
    return whole_message(shown(text))


def read_all(texts: Sequence[str], page: int, stamp: str, changed: bool = False) -> Message:
    """Every text that is not sent yet, page by page; only the last page has the button that sends them.

    `stamp` stands for these very texts, so that nothing is sent that was not shown; `changed` says that it was so.
    """
    head = f"**This would be sent to {count(len(texts), 'squad, in its', 'squads, each in its')} own room.**"
    if changed:
        head += "\nSomething has changed since you read them, so nothing was sent. Please read them once more."
    found = pages([head, *map(shown, texts)], MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)
    page = within(page, len(found))
    last = page == len(found) - 1
    send = (Button(key=key(ActionKey.FEEDBACK_SENT_ALL, stamp), label="Send all", style="main"),) if last else ()
    back = Button(key=key(ActionKey.FEEDBACK_PANEL), label="Not yet")
    return Message(
        text=found[page] + page_line(page, len(found)),
        rows=((*turning(ActionKey.FEEDBACK_ALL, page, len(found)), *send, back),),
    )


def sent(number: int) -> Message:
    """It is on its way."""
    return Message(
        text=f"Feedback sent to {count(number, 'squad')}.",
        rows=((BACK.model_copy(update={"style": "main"}), ALL_SQUADS),),
    )


def feedback_again(squads: int) -> str:
    """The feedback of so many squads is for the result before the correction."""
    return (
        f"The feedback that {count(squads, 'squad')} got was for the earlier result. "
        f"It counts as not sent: read it, then send it again."
    )


def feedback_to_send(squads: int) -> Message:
    """The office reads that the feedback of so many squads was for an earlier result."""
    return Message(text=feedback_again(squads), rows=((FEEDBACK.model_copy(update={"style": "main"}),),))

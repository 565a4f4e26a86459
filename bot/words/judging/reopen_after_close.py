"""Opening judging or a single sheet again after the close: which one, why, who agrees, and what became of it."""

from collections.abc import Sequence
from datetime import datetime
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.reopen_after_close import LONGEST_REASON, SHORTEST_REASON, is_told
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import clock
from bot.words.judging.judges_overview import HOME, OPEN_AGAIN, who
from bot.words.judging.my_sheets import label
from storage.records.message import FORM_LABEL, Button, Form, Message, TextField
from storage.records.people import Judge

REFUSALS = {
    Reason.JUDGING_RUNS: "Judging is not closed, so there is nothing to open again.",
    Reason.JUDGING_OPEN: "Judging is not closed: judges can still change every sheet by themselves.",
    Reason.NO_REASON: "Please say why in a few words. Everyone reads the reason with the result.",
    Reason.SHEET_OPEN_AGAIN: "That sheet is open again already.",
    Reason.REOPENING_WAITS: "You have asked for this yourself. A second coach can agree now; without one "
    "it takes until <t:{at}:t>. Nothing has changed so far.",
    Reason.SHEET_SHUT: "That sheet is closed already.",
}


def pick_sheet(judge: Judge, entries: Sequence[Entry], page: int = 0) -> Message:
    """Pick the sheet that shall be opened again, or one that is open and shall be closed."""
    if not entries:
        return Message(text=f"{who(judge)} has no sheet that could be opened again.", rows=((HOME,),))
    choices = [choice(one.sheet.id, one.squad.name, f"{one.event.name}, {_state(one)}") for one in entries]
    turn = partial(key, ActionKey.JUDGING_PICK_SHEET, judge.id)
    listed = list_page(choices, page, "Pick a sheet", key(ActionKey.JUDGING_PICKED_SHEET), turn)
    return Message(
        text=f"Which sheet of **{who(judge)}** shall be opened again? The marks stay as they are until the judge "
        "changes them; every version is kept." + listed.line,
        rows=(*listed.rows, (HOME,)),
    )


def _state(entry: Entry) -> str:
    if entry.again:
        return "open again now"
    return "handed in" if entry.done else "never came in"


ALL = "Judging"
"""All of judging, where a sentence names what is opened again."""
WHY = TextField(
    key="reason",
    label="Why is it opened again?",
    hint="Everyone reads it with the result. No names, please.",
    example="Two lines were mixed up.",
    least=SHORTEST_REASON,
    most=LONGEST_REASON,
)


def sheet_name(judge: Judge, entry: Entry) -> str:
    """One sheet, where a sentence names what is opened again."""
    return f"The sheet of {who(judge)} for **{escape(entry.squad.name)}**"


def resume_form() -> Form:
    """Why all of judging is opened again."""
    return Form(key=key(ActionKey.JUDGING_RESUME_ASKED), title=OPEN_AGAIN.label, fields=(WHY,))


def asked_to_reopen(request_id: int, what: str, alone_from: datetime) -> Message:
    """The coach who asked reads what is needed now."""
    return Message(
        text=f"{what} is to be opened again, now that marks could be seen. The office has the question: a second "
        f"coach can agree at once. If there is none, press the button from {clock(alone_from)} on.",
        rows=((_agree(request_id), HOME),),
    )


def asked_in_office(request_id: int, what: str, reason: str, alone_from: datetime) -> Message:
    """Told in the office: what a coach wants to be opened again."""
    return Message(
        text=f"{what} is to be opened again. **A second coach has to agree**, because marks could be seen since the "
        f"close; the coach who asked can do so alone from {clock(alone_from)} on.\n"
        f"The reason, which is listed with the result: {escape(reason)}",
        rows=((_agree(request_id),),),
    )


def _agree(request_id: int) -> Button:
    return Button(key=key(ActionKey.JUDGING_AGREED, request_id), label="Agree: open it again", style="danger")


def resumed() -> Message:
    """Judging goes on."""
    return Message(
        text="Judging is open again: judges can change their sheets until you close it. I send them no message about "
        "it: please tell those whom it concerns.",
        rows=((HOME,),),
    )


def reason_form(entry: Entry) -> Form:
    """Why a sheet is opened again."""
    return Form(
        key=key(ActionKey.JUDGING_REOPEN, entry.sheet.id),
        title=cut(f"Open again: {entry.squad.name}", FORM_LABEL),
        fields=(WHY,),
    )


def reopened(judge: Judge, entry: Entry) -> Message:
    """The sheet is open again."""
    told = "They have been told." if is_told(judge) else "They get no messages from me, so please tell them."
    return Message(
        text=f"The sheet of {who(judge)} for **{escape(entry.squad.name)}** is open again. {told}", rows=((HOME,),)
    )


def sure_to_shut(judge: Judge, entry: Entry) -> Message:
    """Ask once before a sheet that was opened again is closed without waiting for the judge."""
    stays = "It stays as it was handed in." if entry.done else "It is not whole, so it will not count."
    return Message(
        text=f"Close the sheet of {who(judge)} for **{escape(entry.squad.name)}** now? {stays}",
        rows=(
            (Button(key=key(ActionKey.JUDGING_SHUT, entry.sheet.id), label="Close this sheet", style="danger"), HOME),
        ),
    )


def shut(judge: Judge, entry: Entry) -> Message:
    """The sheet is closed again."""
    told = "They have been told." if is_told(judge) else "They get no messages from me, so please tell them."
    return Message(
        text=f"The sheet of {who(judge)} for **{escape(entry.squad.name)}** is closed again. {told}", rows=((HOME,),)
    )


@posted(Sign.JUDGING)
def sheet_shut(entry: Entry) -> Message:
    """Told to a judge whose sheet was open again, and is closed by the coach without waiting for more marks."""
    stays = "It stays as you have saved it." if entry.done else "It is not whole, so it is left out."
    return Message(
        text=f"Your coach has closed your sheet for **{escape(entry.squad.name)}** again: you have nothing more to do "
        f"there. {stays}",
        rows=((MY_SHEETS,),),
    )


@posted(Sign.JUDGING)
def sheet_again(entry: Entry, reason: str) -> Message:
    """Told to a judge whose sheet the coach has opened again."""
    return Message(
        text=f"Your coach has opened your sheet for **{escape(entry.squad.name)}** again: {escape(reason)}\n"
        "Please look at it once more. It closes when every line is marked and saved.",
        rows=(
            (
                Button(key=key(ActionKey.SHEETS_MARK, entry.sheet.id), label=label("Look again", entry), style="main"),
                MY_SHEETS,
            ),
        ),
    )

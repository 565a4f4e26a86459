"""A correction is undone by one press, or cannot be any more."""

from collections.abc import Mapping

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.buttons import BACK, PEOPLE, SQUADS
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from storage.records.decisions_and_corrections import Correction, CorrectionKind
from storage.records.message import Button, Message
from storage.records.people import Squad

UNDO: Mapping[CorrectionKind, str] = {
    "details": "Undo: name or section",
    "move": "Undo: the move",
    "join": "Undo: joining the records",
    "rename": "Undo: the new name",
}
"""What the button says, by what was put right."""
REFUSALS = {
    Reason.CORRECTION_GONE: "That has been undone already, or something later was put right. Open the page again.",
    Reason.CORRECTION_HANGS: "That cannot be undone by a press any more: something has been done since that hangs on "
    "it. Put it right by hand.",
}


def undo_button(last: Correction) -> Button:
    """One press that undoes what was put right last."""
    return Button(key=key(ClassKey.UNDO, last.id), label=UNDO[last.kind])


@posted(Sign.SQUAD)
def renamed_back(name: str) -> Message:
    """Told in the room of a squad whose renaming was undone."""
    return Message(text=f"Your squad is called **{escape(name)}** again.")


def rename_undone(squad: Squad) -> Message:
    """The old name stands again."""
    return Message(text=f"The squad is called **{escape(squad.name)}** again.", rows=((SQUADS, PEOPLE, BACK),))

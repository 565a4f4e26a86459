"""A correction is undone, or cannot be any more."""

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.buttons import BACK
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.office.helpers import PEOPLE
from bot.words.squads.squads_admin import SQUADS
from storage.records.message import Message
from storage.records.people import Squad

REFUSALS = {
    Reason.CORRECTION_GONE: "That has been undone already, or something later was put right. Open the page again.",
    Reason.CORRECTION_HANGS: "That cannot be undone by a press any more: something has been done since that hangs on "
    "it. Put it right by hand.",
}


@posted(Sign.SQUAD)
def renamed_back(name: str) -> Message:
    """Told in the room of a squad whose renaming was undone."""
    return Message(text=f"Your squad is called **{escape(name)}** again.")


def rename_undone(squad: Squad) -> Message:
    """The old name stands again."""
    return Message(text=f"The squad is called **{escape(squad.name)}** again.", rows=((SQUADS, PEOPLE, BACK),))

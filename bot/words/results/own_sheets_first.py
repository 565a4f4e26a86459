"""What a coach who judges reads before the own sheets are in."""

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.words.core.buttons import JUDGES, MY_SHEETS
from bot.words.core.number_text import count
from storage.records.message import Message

REFUSALS = {
    ResultReason.OWN_SHEETS_FIRST: "You still have {sheets} of your own to hand in. Then you can see what all the "
    "judges gave.",
    ResultReason.OWN_SHEET_FIRST: "You judge **{squad}** yourself. "
    "Hand in your own sheet first; then you can see the others' marks.",
}


def own_first(sheets: int) -> Message:
    """A coach who judges hands in the own sheets before looking at anybody else's."""
    return Message(
        text=f"**Your own sheets first.** You judge, too, and still owe {count(sheets, 'sheet')}. When they are in, "
        "you see here how far the others are.",
        rows=(
            (
                MY_SHEETS.model_copy(update={"style": "main"}),
                JUDGES,
            ),
        ),
    )

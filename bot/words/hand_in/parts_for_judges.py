"""The hand-in as the judges of a squad read it: the ways on from it."""

from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.custom_ids import key
from bot.words.hand_in.member_parts import Reading
from storage.records.message import Button


def beside_sheet(sheet_id: int, changeable: bool, members: int) -> Reading:
    """A judge reads what a squad has handed in, and goes on to the sheet for it."""
    opening = Button(
        key=key(ActionKey.SHEETS_MARK, sheet_id), label="Mark this squad", style="main", disabled=not changeable
    )
    return Reading(members, ActionKey.SHEETS_HAND_IN, (sheet_id,), (opening, MY_SHEETS))

"""The hand-in as the judges of a squad read it: under which names parts stand, and the ways on from it."""

from collections import Counter
from collections.abc import Sequence

from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.custom_ids import key
from bot.words.hand_in.member_parts import Reading
from storage.records.message import Button
from storage.records.people import Student


def beside_sheet(sheet_id: int, changeable: bool, members: int) -> Reading:
    """A judge reads what a squad has handed in, and goes on to the sheet for it."""
    opening = Button(
        key=key(ActionKey.SHEETS_MARK, sheet_id), label="Mark this squad", style="main", disabled=not changeable
    )
    return Reading(members, ActionKey.SHEETS_HAND_IN, (sheet_id,), (opening, MY_SHEETS))


def first_names(members: Sequence[Student]) -> dict[int, str]:
    """The first name of each member by id; where two share it, the whole name as it was given."""
    first = {one.id: one.name.split()[0] for one in members}
    often = Counter(first.values())
    return {one.id: first[one.id] if often[first[one.id]] == 1 else one.name for one in members}

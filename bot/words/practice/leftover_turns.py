"""Turns that are left over, as squads read it: that there is one, and from when it can be booked beside the share."""

from collections.abc import Mapping
from datetime import datetime

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.times import full
from storage.records.message import Button, Row

REFUSALS = {
    Reason.TURNS_USED: "Every squad may book {share} first, and yours has. "
    "If nobody takes this turn, you can book it from <t:{opens}:F>.",
    Reason.POOL_FIRST: "Squads with fewer turns come first. If this turn is still free, you can book it from "
    "<t:{opens}:F>.",
    Reason.NO_TURNS_YET: "Your squad cannot book a turn right now. You can book from <t:{opens}:F>, "
    "if a turn is left then.",
}
LEAD_ON: Mapping[Reason, tuple[Row, ...]] = dict.fromkeys(
    REFUSALS, ((Button(key=key(ActionKey.PRACTICE_TURNS), label="All turns"),),)
)
"""Where these refusals lead."""
SHARE_BOOKED = "You have booked your share. "
"""Before what a squad can book beside its share."""
NONE_LEFT = "There are no turns left to book."
ONE_NOW, MAY_BOOK_ONE = "There is a turn left over. You can book it.", "You may book one that is left over."


def from_when(opens: datetime) -> str:
    """From when a squad can book that can book nothing now."""
    return f"You can book from {full(opens)}, if a turn is left then."

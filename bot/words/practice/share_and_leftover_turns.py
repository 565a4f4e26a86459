"""What a squad reads of its share of turns at the practice table, and of turns that are left over beside it."""

from collections.abc import Mapping
from datetime import datetime

from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.booking import may_book
from bot.rules.practice.practice_table import PracticeTable
from bot.rules.practice.share_and_leftover_turns import share_left, share_of_each
from bot.words.core.number_text import count
from bot.words.core.times import full
from bot.words.practice.booking import ALL
from storage.records.message import Row

REFUSALS = {
    Reason.TURNS_USED: "Every squad may book {share} first, and yours has. "
    "If nobody takes this turn, you can book it from <t:{opens}:F>.",
    Reason.POOL_FIRST: "Squads with fewer turns come first. If this turn is still free, you can book it from "
    "<t:{opens}:F>.",
}
LEAD_ON: Mapping[Reason, tuple[Row, ...]] = dict.fromkeys(REFUSALS, ((ALL,),))
"""Where these refusals lead."""
SHARE_BOOKED = "You have booked your share. "
"""Before what a squad can book beside its share."""
NONE_LEFT = "There are no turns left to book."
ONE_NOW, MAY_BOOK_ONE = "There is a turn left over. You can book it.", "You may book one that is left over."


def from_when(opens: datetime) -> str:
    """From when a squad can book that can book nothing now."""
    return f"You can book from {full(opens)}, if a turn is left then."


def more_turns(table: PracticeTable, squad: int, now: datetime) -> str:
    """How many turns of its share a squad may still book; afterwards, from when it may book others."""
    can, left = may_book(table, squad, now), share_left(table, squad, now)
    if isinstance(can, datetime):
        return ("" if left else SHARE_BOOKED) + from_when(can)
    if not can:
        return NONE_LEFT
    return f"You can book {count(left, 'more turn' if table.held(squad) else 'turn')} now." if left else ONE_NOW


def may_still_book(table: PracticeTable, squad: int, can: datetime | bool) -> str:
    """What a squad may still book, in its own room; `can` is whether it can book a turn now, or from when."""
    more = share_of_each(table) - len(table.held(squad))
    had = "" if more > 0 else SHARE_BOOKED
    if isinstance(can, datetime):
        return had + from_when(can)
    if not can:
        return had + NONE_LEFT
    if more > 0:
        return f"You may book {count(more, 'more turn' if table.held(squad) else 'turn')} now."
    return had + MAY_BOOK_ONE

"""Turns that are left over: from when what nobody has booked is open to squads that have used up their share.

What nobody has booked by a set time before it begins goes to the *pool*: at first for the squads with the fewest turns,
a little later for all.
"""

from datetime import datetime, timedelta

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.practice_table import PracticeTable

HEAD_START = timedelta(hours=2)
"""For so long, at most half of the pool's time, only squads with the fewest turns may book from the pool."""


def pool_opens(table: PracticeTable, begin: datetime) -> datetime:
    """When a turn that nobody has booked becomes open to squads that have used up their share."""
    return begin - timedelta(hours=table.practice.pool_hours)


def pool_opens_to_all(table: PracticeTable, begin: datetime) -> datetime:
    """When it is open to every squad, however many turns it has."""
    return pool_opens(table, begin) + min(HEAD_START, timedelta(hours=table.practice.pool_hours) / 2)


def why_not_left_over(table: PracticeTable, squad: int, begin: datetime, now: datetime) -> Refusal | None:
    """Why a squad that has used up its share may not book a free turn yet; None where it may.

    The Refusal is `turns_used` (share, opens: seconds) or `pool_first` (opens: seconds).
    """
    opens, to_all = pool_opens(table, begin), pool_opens_to_all(table, begin)
    if now < opens:
        return Refusal(Reason.TURNS_USED, share=table.share, opens=int(opens.timestamp()))
    if now < to_all and len(table.held(squad)) > _fewest_turns(table):
        return Refusal(Reason.POOL_FIRST, opens=int(to_all.timestamp()))
    return None


def _fewest_turns(table: PracticeTable) -> int:
    """How many turns the squads have that have the fewest, and so the head start."""
    return min(len(table.held(squad)) for squad in table.squads)

"""How many practice turns each squad may book first (its share), and from when turns that are left over beside it.

What nobody has booked by a set time before it begins goes to the *pool*: at first for the squads with the fewest turns,
a little later for all.
"""

from datetime import datetime, timedelta

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.practice_table import PracticeTable

HEAD_START = timedelta(hours=2)
"""For so long, at most half of the pool's time, only squads with the fewest turns may book from the pool."""


def share_of_each(table: PracticeTable) -> int:
    """Turns each squad may book first: the plan's number, or the largest whole number there is for all of them.

    Where there are more squads than turns it is 1: whoever comes first. What does not go round stays in the pool.
    """
    if table.practice.turns is not None:
        return table.practice.turns
    return max(1, table.usable // max(1, len(table.squads)))


def share_left(table: PracticeTable, squad: int, now: datetime) -> int:
    """How many turns of its share a squad may still book: never more than there are free ones."""
    return min(max(0, share_of_each(table) - len(table.held(squad))), len(table.free(now)))


def has_used_share(table: PracticeTable, squad: int) -> bool:
    """Whether a squad has as many turns as its share is, without those that were lost."""
    return len(table.held(squad)) >= share_of_each(table)


def lost_for_good(table: PracticeTable, squad: int) -> int:
    """How many of a squad's lost turns it has not booked again: its share is still short by them."""
    return min(len(table.lost(squad)), max(0, share_of_each(table) - len(table.held(squad))))


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
        return Refusal(Reason.TURNS_USED, share=share_of_each(table), opens=int(opens.timestamp()))
    if now < to_all and len(table.held(squad)) > _fewest_turns(table):
        return Refusal(Reason.POOL_FIRST, opens=int(to_all.timestamp()))
    return None


def _fewest_turns(table: PracticeTable) -> int:
    """How many turns the squads have that have the fewest, and so the head start."""
    return min(len(table.held(squad)) for squad in table.squads)

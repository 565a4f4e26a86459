"""A second look: how far apart two judges' marks must be for it, of how many places that is told, who may see them,
and while what it is asked for."""

from collections.abc import Collection

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.judging.my_sheets import Entry
from storage.records.tryout import State

FAR_APART = 2
"""Levels between two judges of one squad that deserve a second look (common in rater training)."""
GAPS_NAMED = 12
"""So many places at which judges are far apart are named with their levels, the widest first; of more only how many."""


def far_apart(levels: Collection[int]) -> bool:
    """Whether two judges' levels on one criterion are so far apart that all are asked to look again."""
    return max(levels) - min(levels) >= FAR_APART


def check_own_sheets_in(owed: int, said: str) -> None:
    """Coaches who also judge see where judges differ once their own sheets are in; `said` are the `owed` in words.

    Raises:
        Refusal: `own_sheets_first` (sheets).
    """
    if owed:
        raise Refusal(ResultReason.OWN_SHEETS_FIRST, sheets=said)


def can_look_again(entry: Entry) -> bool:
    """Whether a sheet is one that its judge is asked to look at again: handed in, and it can still be changed."""
    return entry.done and entry.changeable


def check_may_ask(state: State) -> None:
    """Judges can be asked to look again while they can change their sheets. Raises Refusal `judging_over`."""
    if state not in ("window", "judging"):
        raise Refusal(Reason.JUDGING_OVER)

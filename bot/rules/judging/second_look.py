"""A second look: where judges' marks are far apart, who sees that, who is asked."""

from collections.abc import Collection
from dataclasses import dataclass

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.judging.my_sheets import Entry
from storage.records.people import Judge
from storage.records.tryout import FROM_BRIEF_TO_CLOSE, State

FAR_APART = 2
"""Levels between two judges of one squad that deserve a second look (common in rater training)."""


@dataclass(frozen=True, slots=True)
class MarkGap:
    """A criterion on which judges of one squad are far apart; whose marks they are is not said."""

    squad_id: int
    event: str
    measure: str
    criterion: str
    lowest: int
    highest: int


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


def is_asked(judge: Judge, mine: Collection[Entry]) -> bool:
    """Whether a judge is asked, whose sheets to look at again are `mine`: one who has agreed, and has some."""
    return judge.opted_in_at is not None and bool(mine)


def check_may_ask(state: State) -> None:
    """Judges can be asked to look again while they can change their sheets. Raises Refusal `judging_over`."""
    if state not in FROM_BRIEF_TO_CLOSE:
        raise Refusal(Reason.JUDGING_OVER)

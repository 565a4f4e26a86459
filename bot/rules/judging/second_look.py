"""A second look: how far apart two judges' marks must be for it, and while what it can be asked for."""

from collections.abc import Collection

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State

FAR_APART = 2
"""Levels between two judges of one squad, or of the trial, that deserve a second look (common in rater training)."""


def far_apart(levels: Collection[int]) -> bool:
    """Whether two judges' levels on one criterion are so far apart that all are asked to look again."""
    return max(levels) - min(levels) >= FAR_APART


def check_may_ask(state: State) -> None:
    """Judges can be asked to look again while they can change their sheets. Raises Refusal `judging_over`."""
    if state not in ("window", "judging"):
        raise Refusal(Reason.JUDGING_OVER)

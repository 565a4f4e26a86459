"""An announcement is taken back: when it may be, and how long its reason is."""

from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.announce import check_announced
from bot.rules.results.finality import Doubt

SHORTEST_REASON, LONGEST_REASON = 5, 300
"""Characters of why a result is taken back."""


def read_reason(typed: str) -> str:
    """Why. Raises Refusal: `reason_short`."""
    reason = typed.strip()[:LONGEST_REASON]
    if len(reason) < SHORTEST_REASON:
        raise Refusal(ResultReason.REASON_SHORT)
    return reason


def check_can_go_back(announced_at: datetime | None, why: Doubt | None, place_held: bool) -> None:
    """The result is announced, and while it is final (`why` it is not: None) no place is offered or taken.

    Raises Refusal: `not_announced`, `offer_stands`.
    """
    check_announced(announced_at)
    if why is None and place_held:
        raise Refusal(ResultReason.OFFER_STANDS)

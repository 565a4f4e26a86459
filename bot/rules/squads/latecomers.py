"""Who comes after sign-up had closed: when one may, and how many of them the coach reads by name."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.eligibility import why_not_late
from storage.records.tryout import State

MOST_NAMED = 10
"""So many latecomers are named in the digest; the others are counted."""


def check_late(state: State, signup_open: bool) -> None:
    """Sign-up is over and judging is not.

    Raises:
        Refusal: `late_too_early`, `signup_not_open`, `late_over`.
    """
    if signup_open:
        raise Refusal(Reason.LATE_TOO_EARLY)
    refusal = why_not_late(state)
    if refusal is not None:
        raise refusal

"""Attempts: which one is next, how many there may be, when a run-off is one; and of how many members a share is."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason


def check_next(number: int, made: int, allowed: int | None, squad: str) -> None:
    """An attempt follows the last one that was made, and the plan gives so many; None: it is a run-off.

    Raises Refusal: `attempt_gone`, `attempts_used` (squad, most).
    """
    if number > made + 1:
        raise Refusal(Reason.ATTEMPT_GONE)
    if allowed is not None and number > allowed:
        raise Refusal(Reason.ATTEMPTS_USED, squad=squad, most=allowed)


def members_asked(members: int, present: int | None, hand_in: bool) -> int:
    """Of how many members a share is: those who are here, where that was ticked; all, where parts are handed in."""
    return members if hand_in or not present else present

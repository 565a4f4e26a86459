"""Attempts: which one is next, how many there may be, and when a run-off is one."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason


def check_next(number: int, made: int, allowed: int | None, squad: str) -> None:
    """An attempt follows the last one that was made, and the plan gives so many; None: it is a run-off.

    Raises Refusal: `attempt_gone`, `attempts_used` (squad, most).
    """
    if number > made + 1:
        raise Refusal(TableReason.ATTEMPT_GONE)
    if allowed is not None and number > allowed:
        raise Refusal(TableReason.ATTEMPTS_USED, squad=squad, most=allowed)


def which_attempt(made: int, run_offs: int, allowed: int) -> tuple[int, bool]:
    """The number of the attempt that comes next, and whether it is a run-off: once all that the plan gives are made."""
    return (made + 1, False) if made < allowed else (run_offs + 1, True)


def is_done(made: int, allowed: int, absent: bool) -> bool:
    """Whether nothing more is awaited of a squad at a measure: all its attempts are made, or it does not take part."""
    return absent or made >= allowed


def has_more(number: int, run_off: bool, allowed: int) -> bool:
    """Whether the plan gives the squad another attempt after this one."""
    return not run_off and number < allowed

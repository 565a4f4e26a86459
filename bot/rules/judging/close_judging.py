"""Judging is closed: while what, and by whom."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State


def check_own_sheets_in(owed: int, said: str) -> None:
    """A coach who also judges hands in the own sheets before closing: whoever closes sees all marks a moment later.

    `owed` are those that are not in, `said` the same in words.

    Raises:
        Refusal: `own_sheets_before_close` (sheets).
    """
    if owed:
        raise Refusal(Reason.OWN_SHEETS_BEFORE_CLOSE, sheets=said)


def check_may_close(state: State) -> None:
    """Judging is closed once the window is over.

    Raises:
        Refusal: `judging_not_begun`, `judging_over`.
    """
    if state != "judging":
        raise Refusal(Reason.JUDGING_NOT_BEGUN if state in ("drafting", "signup", "window") else Reason.JUDGING_OVER)

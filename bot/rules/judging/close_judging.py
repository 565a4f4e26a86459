"""Judging is closed: while what, by whom, and how many squads are named of a judge who owes sheets."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State

MOST_NAMED = 6
"""So many of the squads whose sheets a judge owes are named to the coach; the others are counted."""


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

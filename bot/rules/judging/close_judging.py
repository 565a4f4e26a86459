"""Judging is opened and closed: while what, and how many squads are named of a judge who owes sheets."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State

MOST_NAMED = 6
"""So many of the squads whose sheets a judge owes are named to the coach; the others are counted."""


def check_may_close(state: State) -> None:
    """Judging is closed once the window is over.

    Raises:
        Refusal: `judging_not_begun`, `judging_over`.
    """
    if state != "judging":
        raise Refusal(Reason.JUDGING_NOT_BEGUN if state in ("drafting", "signup", "window") else Reason.JUDGING_OVER)

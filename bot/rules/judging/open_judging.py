"""Events are opened for judging: while what, and how many judges are named who have not agreed yet."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State

MOST_NAMED = 8
"""More judges than this are counted."""


def check_judging_runs(state: State) -> None:
    """Judging can be opened, looked at and closed from the brief on until it is closed.

    Raises:
        Refusal: `judging_not_begun`, `judging_over`.
    """
    if state not in ("window", "judging"):
        raise Refusal(Reason.JUDGING_NOT_BEGUN if state in ("drafting", "signup") else Reason.JUDGING_OVER)

"""A sheet, or all of judging, is opened again after the close: until when, and how long the reason is."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State

SHORTEST_REASON, LONGEST_REASON = 5, 200
"""Characters of why a sheet is opened again."""


def check_may_reopen_sheet(state: State, result_stands: bool) -> None:
    """One sheet can be opened again once judging is closed, until the result is announced.

    Raises:
        Refusal: `judging_over`, `judging_open`.
    """
    if result_stands:
        raise Refusal(Reason.JUDGING_OVER)
    if state != "settled":
        raise Refusal(Reason.JUDGING_OPEN)


def check_may_resume(state: State, result_stands: bool) -> None:
    """All of judging can be opened again in the same time.

    Raises:
        Refusal: `judging_over`, `judging_runs`.
    """
    if state != "settled":
        raise Refusal(Reason.JUDGING_OVER if result_stands else Reason.JUDGING_RUNS)

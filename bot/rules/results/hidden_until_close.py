"""Until judging is closed nobody sees marks, points or an order: only who owes what."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from storage.records.tryout import AFTER_CLOSE, BEFORE_BRIEF, State


def sealed(state: State) -> bool:
    """Whether marks, points and the order are still hidden from everybody, coaches included."""
    return state not in AFTER_CLOSE


def check_begun(state: State) -> None:
    """There is something to see, or a Refusal: `results_not_yet`."""
    if state in BEFORE_BRIEF:
        raise Refusal(ResultReason.RESULTS_NOT_YET)


def check_unsealed(state: State) -> None:
    """Judging is closed, so that marks, points and the order may be seen.

    Raises Refusal: `results_not_yet`, `still_sealed`.
    """
    check_begun(state)
    if sealed(state):
        raise Refusal(ResultReason.STILL_SEALED)

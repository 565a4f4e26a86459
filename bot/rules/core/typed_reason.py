"""The reason that a coach types for what the rules do not foresee, which everyone reads later: how long it is."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.request import Request

SHORTEST_REASON, LONGEST_REASON = 3, 200
"""Characters of a reason; fewer say nothing."""


def reason_of(request: Request) -> str:
    """The reason that was typed.

    Raises:
        Refusal: `reason_needed` when there is none to speak of.
    """
    reason = " ".join(request.fields.get("reason", "").split())
    if len(reason) < SHORTEST_REASON:
        raise Refusal(Reason.REASON_NEEDED)
    return reason

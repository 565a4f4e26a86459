"""Sign-up opens: once, of a try-out that is still being set up; what must be there first is in `readiness`."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State


def check_may_open(state: State) -> None:
    """Sign-up opens while students see nothing yet. Raises Refusal `step_over`."""
    if state != "drafting":
        raise Refusal(Reason.STEP_OVER)

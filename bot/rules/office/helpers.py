"""Who helps to run a try-out: whether somebody can be dismissed."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason


def check_may_dismiss(role: str, coaches: int, by_manager: bool) -> None:
    """The last of the coaches stays, unless somebody who manages the class server dismisses them.

    Raises:
        Refusal: `last_coach`.
    """
    if role == "coach" and coaches == 1 and not by_manager:
        raise Refusal(Reason.LAST_COACH)

"""Who helps to run a try-out: in which order they are listed, and whether somebody can be dismissed."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Officer


def in_order(officers: Sequence[Officer]) -> list[Officer]:
    """Coaches, scorekeepers and typists as they are listed: in the order in which they were enrolled."""
    return sorted(officers, key=lambda one: one.id)


def check_may_dismiss(role: str, coaches: int, by_manager: bool) -> None:
    """The last of the coaches stays, unless somebody who manages the class server dismisses them.

    Raises:
        Refusal: `last_coach`.
    """
    if role == "coach" and coaches == 1 and not by_manager:
        raise Refusal(Reason.LAST_COACH)

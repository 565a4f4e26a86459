"""More time for the hand-in of one squad: while what it can be given, and until when at most."""

from datetime import datetime, timedelta

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.hand_in.member_parts import hand_in_events
from storage.records.plan import Plan
from storage.records.tryout import FROM_BRIEF_TO_CLOSE, State

MOST_EXTENSION = timedelta(days=30)
"""More time for one squad ends no later than so long after the deadline."""
PROPOSED = timedelta(days=1)
"""So long after the deadline the form proposes."""


def check_may_give(plan: Plan, state: State) -> None:
    """There is something to hand in, and it may still matter.

    Raises:
        Refusal: `no_hand_in`, `more_time_late`.
    """
    if not hand_in_events(plan):
        raise Refusal(Reason.NO_HAND_IN)
    if state not in FROM_BRIEF_TO_CLOSE:
        raise Refusal(Reason.MORE_TIME_LATE)


def check_until(until: datetime | None, deadline: datetime, now: datetime) -> datetime:
    """Until when there is more time: after now and after the deadline, and not too long after it.

    Raises:
        Refusal: `more_time_when` (deadline), also where nothing could be read (None).
    """
    if until is None or not max(deadline, now) < until <= deadline + MOST_EXTENSION:
        raise Refusal(Reason.MORE_TIME_WHEN, deadline=int(deadline.timestamp()))
    return until

"""The brief goes out: when it can be released by hand, and at which minute the days to the deadline begin."""

from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State


def check_may_release(state: State, brief_at: datetime | None) -> None:
    """The coach can release it while sign-up is open, once. Raises Refusal: `step_over`, `signup_first`."""
    if state != "signup":
        raise Refusal(Reason.STEP_OVER if brief_at else Reason.SIGNUP_FIRST)


def to_the_minute(at: datetime) -> datetime:
    """The minute an instant lies in, so that the deadline is a time of day that people can say."""
    return at.replace(second=0, microsecond=0)


def window_begins(planned: datetime, now: datetime, late: bool) -> datetime:
    """From when the days to the deadline count: as planned, or from now where the bot was off and it comes late."""
    return to_the_minute(now) if late else planned

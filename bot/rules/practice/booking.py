"""Booking turns at the practice table: from when they can be seen, and while what they can be booked."""

from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State


def check_begun(state: State, brief: datetime) -> None:
    """There may be turns to see from the brief on. Raises Refusal `practice_not_yet` (brief: seconds)."""
    if state in ("drafting", "signup"):
        raise Refusal(Reason.PRACTICE_NOT_YET, brief=int(brief.timestamp()))


def check_running(state: State, brief: datetime) -> None:
    """Turns can be booked and given back during the window. Raises Refusal as `check_begun`; `practice_over`."""
    check_begun(state, brief)
    if state != "window":
        raise Refusal(Reason.PRACTICE_OVER)
